"""The lists of today fill and empty themselves by what is saved."""

from __future__ import annotations

from datetime import datetime

from support.cast import Clock

from fitcounter.desk import shop
from fitcounter.desk.front_desk import calls_and_reminders, ticket_rows
from fitcounter.desk.front_desk import today as front_desk_today
from fitcounter.store.database import Act, Store


def lists_at(store: Store, now: datetime) -> front_desk_today.DeskLists:
    here = shop.read(store)
    rows = ticket_rows.open_rows(store, here, here.today(now))
    return front_desk_today.desk_lists(store, here, rows, now)


def test_what_is_all_here_is_to_be_called_about_until_somebody_called(
    store: Store, shelved, clock: Clock
):
    assert [row.ticket.id for row in lists_at(store, clock.now).calls] == [shelved.ticket_id]
    calls_and_reminders.keep(
        store, Act(clock.on(minutes=5), 1), shop.read(store), shelved.ticket_id, "called"
    )
    assert lists_at(store, clock.now).calls == []


def test_a_promise_that_has_passed_is_on_the_late_list(store: Store, job, clock: Clock):
    with store.write_tx():
        store.change("tickets", job.ticket_id, promise_day="2026-03-15")
    (late,) = lists_at(store, clock.now).late
    assert late.late_days == 2


def test_only_what_is_on_a_shelf_waits_to_be_picked_up(store: Store, shelved, clock: Clock):
    rows = front_desk_today.shelved(store, shop.read(store), clock.now)
    assert [(row.ticket.id, row.ready) for row in rows] == [(shelved.ticket_id, True)]


def test_nothing_of_a_job_at_the_bench_waits_to_be_picked_up(store: Store, job, clock: Clock):
    assert front_desk_today.shelved(store, shop.read(store), clock.now) == []
