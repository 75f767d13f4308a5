"""Price lines and payments as rows."""

from __future__ import annotations

from support.cast import Clock
from support.ticket_rows import make_job

from fitcounter.store import bills
from fitcounter.store.database import Act, Store


def test_a_line_taken_out_leaves_its_place_to_nobody(store: Store, clock: Clock):
    job = make_job(store, Act(clock.now, 1))
    with store.write_tx():
        bills.add_line(store, job.ticket_id, bills.NewLine("New heel tips", "job", 1500))
        bills.remove_line(store, bills.lines(store, job.ticket_id)[0])
        bills.take_off(store, job.ticket_id, "Discount", 300, "a regular")
    assert [
        (one.what, one.amount_minor, one.why, one.position, one.taxable)
        for one in bills.lines(store, job.ticket_id)
    ] == [("New heel tips", 1500, "", 1, 1), ("Discount", -300, "a regular", 2, 1)]


def test_a_payment_says_how_it_was_given_and_what_was_a_tip(store: Store, clock: Clock):
    job = make_job(store, Act(clock.now, 1))
    with store.write_tx():
        bills.pay(
            store, Act(clock.now, 1), job.ticket_id, "payment", 500, method="card", tip_minor=100
        )
    paid = bills.payments(store, job.ticket_id)
    assert [(one.method, one.tip_minor) for one in paid] == [("", 0), ("card", 100)]


def test_a_line_is_billed_once_and_stays_on_its_day(store: Store, clock: Clock):
    job = make_job(store, Act(clock.now, 1))
    with store.write_tx():
        bills.bill(store, job.ticket_id, "2026-03-17T14:00:00Z")
        bills.add_line(store, job.ticket_id, bills.NewLine("One more round", "round", 3000))
        bills.bill(store, job.ticket_id, "2026-05-20T14:00:00Z")
    assert [one.billed_at for one in bills.lines(store, job.ticket_id)] == [
        "2026-03-17T14:00:00Z",
        "2026-05-20T14:00:00Z",
    ]
