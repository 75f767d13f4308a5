"""All tickets of a customer with their money, the legs over the years, and what was said."""

from __future__ import annotations

from datetime import date

from support.ticket_rows import Job

from fitcounter.desk import shop
from fitcounter.desk.customer import history
from fitcounter.desk.customer.history import LegsOnDay
from fitcounter.store import bills, tickets
from fitcounter.store.bills import NewLine
from fitcounter.store.database import Act, Store


def test_every_ticket_stands_with_what_is_paid_and_owed(store: Store, act: Act, job: Job):
    ticket = tickets.get(store, job.ticket_id)
    before = history.of_customer(store, shop.read(store), ticket.customer_id).tickets[0]
    with store.write_tx():
        bills.add_line(store, job.ticket_id, NewLine("Dyed", "job", 4000))
        bills.pay(store, act, job.ticket_id, "deposit", 1500, method="cash")
    (after,) = history.of_customer(store, shop.read(store), ticket.customer_id).tickets
    assert after.ticket.id == job.ticket_id
    assert after.paid_minor - before.paid_minor == 1500
    assert after.due_minor - before.due_minor == 2500
    assert "tan bag" in after.what


def test_legs_are_drawn_over_the_years_and_one_day_is_no_chart():
    first, last = date(2021, 3, 1), date(2026, 3, 1)
    legs = [
        LegsOnDay(first, 380.0, 376.0),
        LegsOnDay(date(2023, 8, 31), 384.0, None),
        LegsOnDay(last, 392.0, 390.0),
    ]
    drawn = history.chart_of(legs)
    assert drawn is not None
    assert (len(drawn.left), len(drawn.right)) == (3, 2)
    assert [x for x, _ in drawn.left] == sorted(x for x, _ in drawn.left)
    assert drawn.left[-1][1] < drawn.left[0][1], "a larger leg stands higher"
    assert drawn.right[0] == (16.0, 104.0), "the smallest of all at the foot"
    assert history.chart_of(legs[:1]) is None
    assert history.chart_of([LegsOnDay(first, None, None), LegsOnDay(last, None, None)]) is None
