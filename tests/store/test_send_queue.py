"""What is to be sent, by mail or to a phone: one sender takes it, and what was dropped stays so."""

from __future__ import annotations

from datetime import timedelta
from typing import Any

import pytest
from support.cast import Clock
from support.ticket_rows import make_job

from fitcounter.store import mails, push_phones, pushes
from fitcounter.store.database import Act, Store
from fitcounter.store.push_phones import NewPushPhone
from fitcounter.store.pushes import NewPush
from fitcounter.store.send_queue import SendQueue


@pytest.fixture
def ticket_id(store: Store, clock: Clock) -> int:
    """A ticket of which one mail and one message to a phone wait to be sent, both as "ready"."""
    ticket_id = make_job(store, Act(clock.now, 1)).ticket_id
    new = NewPushPhone(ticket_id=ticket_id, endpoint="https://p.example/1", p256dh="p", auth="a")
    with store.write_tx():
        mails.add(store, ticket_id, "ready", "ready-1", clock.now, clock.now)
        phone = push_phones.add(store, new, clock.now)
        pushes.add(store, phone, NewPush(ticket_id, "ready", "ready-1"), clock.now)
    return ticket_id


both = pytest.mark.parametrize("queue", [mails.QUEUE, pushes.QUEUE], ids=lambda one: one.table)


@both
def test_one_sender_takes_it_and_who_stops_dead_leaves_it_for_later(
    store: Store, clock: Clock, ticket_id: int, queue: SendQueue[Any]
):
    (one,) = queue.due(store, clock.now, 9)
    later = clock.now + timedelta(seconds=30)
    assert queue.take(store, one, later)
    assert not queue.take(store, one, later)
    assert queue.due(store, clock.now, 9) == []
    assert [again.id for again in queue.due(store, later, 9)] == [one.id]


@both
def test_what_was_dropped_stays_so_unless_it_went_out_meanwhile(
    store: Store, clock: Clock, ticket_id: int, queue: SendQueue[Any]
):
    (one,) = queue.due(store, clock.now, 9)
    with store.write_tx():
        queue.drop_waiting(store, ticket_id, "late", clock.now)
    assert queue.of_ticket(store, ticket_id)[0].state == "waiting"
    with store.write_tx():
        queue.drop_waiting(store, ticket_id, "ready", clock.now)
    queue.finish(store, one, "waiting", clock.now, "no-answer")
    assert queue.of_ticket(store, ticket_id)[0].state == "dropped"
    queue.finish(store, one, "sent", clock.now)
    assert queue.of_ticket(store, ticket_id)[0].state == "sent"


@both
def test_a_clock_that_was_years_ahead_holds_nothing_back(
    store: Store, clock: Clock, ticket_id: int, queue: SendQueue[Any]
):
    (one,) = queue.due(store, clock.now, 9)
    queue.take(store, one, clock.now + timedelta(days=900))
    assert [again.id for again in queue.due(store, clock.now, 9)] == [one.id]
