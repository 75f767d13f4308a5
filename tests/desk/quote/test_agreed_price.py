"""The price is kept with the customer's yes as it stood."""

from __future__ import annotations

from support.ticket_rows import Job

from fitcounter.desk.quote import agreed_price
from fitcounter.desk.shop import Shop
from fitcounter.store import bills, tickets
from fitcounter.store.database import Act, Store


def test_what_is_kept_with_a_yes_is_read_as_it_was_whatever_the_lines_say_now(
    store: Store, act: Act, choices: Shop, job: Job
):
    ticket = tickets.get(store, job.ticket_id)
    price = agreed_price.anew(store, choices, ticket)
    with store.write_tx():
        kept = agreed_price.as_text(price)
        tickets.add_consent(store, act, ticket.id, "2026-3", [], name="Marisol", price=kept)
        line = bills.lines(store, ticket.id)[0]
        bills.change_line(store, line, line.what, 12000)
    (consent,) = tickets.consents(store, ticket.id)
    assert agreed_price.of_consent(consent) == price
    assert price.total_minor == price.ceiling_minor == 9000
    assert not price.further
    now = agreed_price.standing(store, choices, ticket)
    assert (now.total_minor, now.ceiling_minor) == (12000, 12000)


def test_an_older_yes_kept_no_price(store: Store, act: Act, job: Job):
    with store.write_tx():
        tickets.add_consent(store, act, job.ticket_id, "2026-3", [], name="Marisol")
    (consent,) = tickets.consents(store, job.ticket_id)
    assert agreed_price.of_consent(consent) is None
