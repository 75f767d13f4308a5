"""The file keeps the balance of every ticket, and who collected what."""

from __future__ import annotations

import pytest
from support.cast import Clock
from support.ticket_rows import make_job

from fitcounter.desk.common import money
from fitcounter.store import bills, tickets, tills
from fitcounter.store.database import Act, Store


def kept(store: Store, ticket_id: int) -> int:
    return int(store.value("SELECT due_minor FROM tickets WHERE id = ?", ticket_id))


def reckoned(store: Store, ticket_id: int) -> int:
    ticket = tickets.get(store, ticket_id)
    lines, paid = bills.lines(store, ticket_id), bills.payments(store, ticket_id)
    return money.sums(ticket, lines, paid).due_minor


@pytest.mark.parametrize(("points", "included"), [(0, 0), (725, 0), (1900, 1), (2100, 0)])
def test_the_balance_follows_every_line_payment_and_tax(
    store: Store, clock: Clock, points: int, included: int
):
    act = Act(clock.now, 1)
    job = make_job(store, act)
    with store.write_tx():
        store.change("tickets", job.ticket_id, tax_basis_points=points, tax_included=included)
    assert kept(store, job.ticket_id) == reckoned(store, job.ticket_id)
    with store.write_tx():
        bills.add_line(store, job.ticket_id, bills.NewLine("New zip", "job", 4567))
        bills.take_off(store, job.ticket_id, "Discount", 333, "a regular")
        bills.take_off(store, job.ticket_id, "Rounding", 1, "", 0)
        bills.pay(store, act, job.ticket_id, "refund", 101)
    assert kept(store, job.ticket_id) == reckoned(store, job.ticket_id)
    with store.write_tx():
        bills.remove_line(store, bills.lines(store, job.ticket_id)[0])
    assert kept(store, job.ticket_id) == reckoned(store, job.ticket_id)


def test_what_is_owed_stays_on_the_list_after_pickup(store: Store, clock: Clock):
    job = make_job(store, Act(clock.now, 1))
    assert [one.id for one in tills.open_money(store, picked_up=False)] == [job.ticket_id]
    assert tills.open_money(store, picked_up=True) == []
    with store.write_tx():
        store.change("tickets", job.ticket_id, state="out")
    assert [one.id for one in tills.open_money(store, picked_up=True)] == [job.ticket_id]
    assert tills.owed_minor(store) == {"USD": 6000}
    with store.write_tx():
        bills.pay(store, Act(clock.now, 1), job.ticket_id, "payment", 6000)
    assert tills.open_money(store, picked_up=False) == []


def test_each_handing_over_keeps_its_own_name(store: Store, clock: Clock):
    act = Act(clock.now, 1)
    job = make_job(store, act)
    with store.write_tx():
        tills.hand_over(store, act, job.ticket_id, "2026-03-17T14:00:00Z", "Ada", [job.bag])
        tills.hand_over(store, act, job.ticket_id, "2026-03-18T14:00:00Z", "Bo", [2, 1])
    assert [(one.collected_by, one.items) for one in tills.handovers(store, job.ticket_id)] == [
        ("Ada", "[3]"),
        ("Bo", "[1, 2]"),
    ]


def test_who_owes_is_found_without_reading_all_customers(store: Store):
    """Not even by the index of those that are not erased, which holds nearly all of them."""
    asked: list[str] = []
    store.db.conn.set_trace_callback(asked.append)
    tills.open_money(store, picked_up=False)
    store.db.conn.set_trace_callback(None)
    plan = " ".join(str(row["detail"]) for row in store.rows(f"EXPLAIN QUERY PLAN {asked[0]}"))
    assert "SCAN customers" not in plan
    assert "SCAN c" not in plan
    assert "SCAN tickets USING INDEX tickets_due" in plan
