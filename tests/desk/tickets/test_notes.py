"""What people wrote and changed is seen on the ticket, with who and when."""

from __future__ import annotations

from pathlib import Path

from fitcounter.desk.customer import details
from fitcounter.desk.customer.details import Details
from fitcounter.desk.front_desk import calls_and_reminders
from fitcounter.desk.shop import Shop
from fitcounter.desk.tickets import cancel, notes, price_change
from fitcounter.desk.tickets.cancel import Cancellation
from fitcounter.desk.tickets.price_change import PriceChange
from fitcounter.store import tills
from fitcounter.store.database import Act, Store


def test_calls_prices_cancellations_pickups_and_details_stand_with_their_words(
    store: Store, act: Act, choices: Shop, job, clock, tmp_path: Path
):
    def later() -> Act:
        return Act(clock.on(minutes=1), 1)

    ticket_id = job.ticket_id
    calls_and_reminders.keep(
        store, later(), choices, ticket_id, "left-word", "her son took the message"
    )
    change = PriceChange(lines=(), why="", discount="10%", discount_why="a regular")
    price_change.change(store, later(), choices, ticket_id, change, tmp_path)
    typed = Details("Marisol Okafor-Lind", "(555) 010-0142", "m@example.org", "en", "side door")
    details.put_right(store, later(), choices, ticket_id, typed)
    only = Cancellation(item_id=job.bag, charge_minor=8100, note="another zip was wanted")
    cancel.cancel(store, later(), choices, ticket_id, only, tmp_path)
    with store.write_tx():
        tills.hand_over(store, act, ticket_id, "2026-03-19T14:00:00Z", "Ada", [job.bag])

    assert [(one.head, one.text, one.who) for one in notes.of_ticket(store, ticket_id)] == [
        ("Picked up by Ada", "tan bag", "CO"),
        ("Cancelled", "another zip was wanted", "CO"),
        ("Customer details changed", "e-mail and note", "CO"),
        ("Price changed", "a regular", "CO"),
        ("Left a message", "her son took the message", "CO"),
    ]
