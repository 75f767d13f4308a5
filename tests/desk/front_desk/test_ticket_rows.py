"""A ticket's row says where each thing is, by how much it is late, and what is owed."""

from __future__ import annotations

from datetime import UTC, date, datetime

from support.ticket_rows import make_job

from fitcounter.desk import shop
from fitcounter.desk.front_desk import ticket_rows
from fitcounter.store import tickets
from fitcounter.store.database import Act, Store

TODAY = date(2026, 3, 17)
NOW = datetime(2026, 3, 17, 14, tzinfo=UTC)


def row(store: Store, ticket_id: int) -> ticket_rows.TicketRow:
    return ticket_rows.row_of(store, tickets.get(store, ticket_id), shop.read(store), TODAY)


def promise(store: Store, ticket_id: int, day: str) -> None:
    with store.write_tx():
        store.change("tickets", ticket_id, promise_day=day)


def test_a_ticket_is_late_by_the_days_since_it_was_promised(store: Store, job):
    promise(store, job.ticket_id, "2026-03-14")
    assert row(store, job.ticket_id).late_days == 3
    promise(store, job.ticket_id, "2026-03-17")
    assert row(store, job.ticket_id).late_days == 0


def test_what_is_all_here_is_ready_and_no_longer_late(store: Store, shelved):
    promise(store, shelved.ticket_id, "2026-03-14")
    here = row(store, shelved.ticket_id)
    assert (here.ready, here.some_here, here.to_tell, here.late_days) == (True, True, True, 0)


def test_both_ways_to_a_row_say_the_same(store: Store, job):
    (listed,) = ticket_rows.open_rows(store, shop.read(store), TODAY)
    alone = row(store, job.ticket_id)
    assert listed.words == alone.words
    assert listed.due_minor == alone.due_minor


def test_many_tickets_cost_as_many_questions_as_one_and_say_the_same(store: Store, job):
    others = [make_job(store, Act(NOW, 1), name).ticket_id for name in ("Ida", "Bo", "Nils")]
    many = [tickets.get(store, one) for one in (job.ticket_id, *others)]
    choices = shop.read(store)
    asked: list[str] = []
    store.db.conn.set_trace_callback(asked.append)
    ticket_rows.rows_of(store, many[:1], choices, TODAY)
    of_one = len(asked)
    found = ticket_rows.rows_of(store, many, choices, TODAY)
    store.db.conn.set_trace_callback(None)
    assert len(asked) - of_one == of_one
    assert [one.ticket.id for one in found] == [one.id for one in many]
    for one, ticket in zip(found, many, strict=True):
        alone = row(store, ticket.id)
        assert (one.words, one.due_minor, one.when) == (alone.words, alone.due_minor, alone.when)
        assert (one.customer, one.items) == (alone.customer, alone.items)
    assert ticket_rows.rows_of(store, [], choices, TODAY) == []


def test_a_day_near_by_is_said_by_its_name_and_others_by_date():
    said = [ticket_rows.near(date(2026, 3, day), TODAY) for day in (17, 18, 20, 31)]
    assert said[:3] == ["today", "tomorrow", "Friday"]
    assert said[3] == "Tue, Mar 31"
