"""The paper of a closed till is made from what was kept, not from what stands now."""

from __future__ import annotations

from support.ticket_rows import Job

from fitcounter.desk.documents.closed_till import till_slip
from fitcounter.desk.shop import Shop
from fitcounter.desk.tickets import till
from fitcounter.desk.tickets.till import Count
from fitcounter.store import bills
from fitcounter.store.database import Act, Store


def test_a_payment_after_the_closing_is_not_on_it(store: Store, act: Act, choices: Shop, job: Job):
    page = till.look(store, choices, act.at, 5000)
    count = Count({"cash": 5000, "": 3000}, 5000, seen=page.seen)
    closed = till.close(store, act, choices, count)
    with store.write_tx():
        bills.pay(store, act, job.ticket_id, "payment", 2000, method="cash")
    slip = till_slip(store, choices, closed.row_id or 0)
    assert [(one.kind, one.expected, one.counted) for one in slip.lines] == [
        ("Cash", "$50.00", "$50.00"),
        ("Not said how", "$30.00", "$30.00"),
    ]
    assert slip.difference == "Right to the cent."
