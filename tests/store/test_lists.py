"""What the front desk's lists are made from: open tickets alone, with their sums and calls."""

from __future__ import annotations

from support.ticket_rows import Job, make_job

from fitcounter.store import bills, lists, tickets
from fitcounter.store.bills import NewLine
from fitcounter.store.database import Act, Store


def test_tickets_come_by_their_promised_day_and_those_without_one_last(
    store: Store, act: Act, job: Job
):
    late, soon = (make_job(store, act, name) for name in ("Tobias", "Noor"))
    with store.write_tx():
        store.change("tickets", late.ticket_id, promise_day="2026-04-02")
        store.change("tickets", soon.ticket_id, promise_day="2026-03-20")
    order = [soon.ticket_id, late.ticket_id, job.ticket_id]
    assert [one.id for one in lists.open_tickets(store)] == order


def test_a_ticket_that_is_closed_is_in_none_of_the_lists(store: Store, act: Act, job: Job):
    closed = make_job(store, act, "Tobias")
    with store.write_tx():
        store.insert(
            "calls", ticket_id=closed.ticket_id, at="2026-03-17", about="ready", how="text"
        )
        store.change("tickets", closed.ticket_id, state="closed")
    assert [one.name for one in lists.customers(store).values()] == ["Marisol Okafor-Lind"]
    for listed in (lists.items, lists.listed_minor, lists.paid_minor):
        assert set(listed(store)) == {job.ticket_id}
    assert lists.asked(store) == {}


def test_the_items_of_a_ticket_come_by_letter_and_side(store: Store, job: Job):
    found = lists.items(store)[job.ticket_id]
    assert [item.id for item in found] == [job.left, job.right, job.bag]


def test_a_refund_is_taken_off_what_was_paid(store: Store, act: Act, job: Job):
    with store.write_tx():
        bills.add_line(store, job.ticket_id, NewLine("Round", "round", 1500, quantity=2))
        bills.pay(store, act, job.ticket_id, "refund", 1000)
    assert lists.listed_minor(store) == {job.ticket_id: (12000, 0)}
    assert lists.paid_minor(store) == {job.ticket_id: 2000}


def test_the_last_call_about_a_ticket_is_the_one_that_counts(store: Store, job: Job):
    with store.write_tx():
        for how in ("no-answer", "left-word"):
            store.insert("calls", ticket_id=job.ticket_id, at="2026-03-17", about="ready", how=how)
    assert lists.asked(store)[job.ticket_id].how == "left-word"


def test_a_ticket_is_fetched_from_the_first_instant_to_just_before_the_last(store: Store, job: Job):
    at = "2026-03-17T14:00:00Z"
    with store.write_tx():
        store.change("tickets", job.ticket_id, handed_over_at=at)
    ticket = tickets.get(store, job.ticket_id)
    assert lists.fetched_on(store, at, "2026-03-18") == [ticket]
    assert lists.fetched_on(store, "2026-03-17", at) == []
