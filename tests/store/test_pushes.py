"""The queue of messages to phones: each event once a phone, taken by one at a time."""

from __future__ import annotations

from datetime import timedelta

from support.cast import Clock
from support.ticket_rows import make_job

from fitcounter.store import push_phones, pushes
from fitcounter.store.database import Act, Store
from fitcounter.store.push_phones import NewPushPhone
from fitcounter.store.pushes import NewPush


def queue(store: Store, clock: Clock, *events: str) -> int:
    ticket_id = make_job(store, Act(clock.now, 1)).ticket_id
    new = NewPushPhone(ticket_id=ticket_id, endpoint="https://p.example/1", p256dh="p", auth="a")
    with store.write_tx():
        held = push_phones.add(store, new, clock.now)
        for event in events:
            pushes.add(store, held, NewPush(ticket_id, "answered", event), clock.now)
    return ticket_id


def test_an_event_is_queued_once_and_one_thread_takes_it(store: Store, clock: Clock):
    ticket_id = queue(store, clock, "answered-1", "answered-1")
    (push,) = pushes.due(store, clock.now, 9)
    later = clock.now + timedelta(seconds=30)
    assert pushes.take(store, push, later)
    assert not pushes.take(store, push, later)
    assert pushes.due(store, clock.now, 9) == []
    assert [one.event for one in pushes.since(store, "answered", clock.now)] == ["answered-1"]
    with store.write_tx():
        pushes.drop_waiting(store, ticket_id, "answered", clock.now)
    pushes.finish(store, push, "waiting", clock.now, "not-now")
    assert pushes.of_ticket(store, ticket_id)[0].state == "dropped"


def test_what_was_wrong_is_known_until_one_goes_out(store: Store, clock: Clock):
    queue(store, clock, "answered-1", "answered-2")
    one, other = pushes.due(store, clock.now, 9)
    for push in (one, other):
        pushes.take(store, push, clock.now)
    pushes.finish(store, one, "given-up", clock.now, "keys")
    pushes.finish(store, other, "waiting", clock.now, "not-now")
    assert pushes.last_fault(store) == "not-now"
    pushes.finish(store, other, "sent", clock.on(minutes=1))
    assert pushes.last_fault(store) == ""
    sent = pushes.last_sent(store)
    assert sent is not None
    assert sent.event == "answered-2"


def test_a_clock_that_was_years_ahead_holds_nothing_back(store: Store, clock: Clock):
    queue(store, clock, "answered-1")
    (push,) = pushes.due(store, clock.now, 9)
    pushes.take(store, push, clock.now + timedelta(days=900))
    assert [one.id for one in pushes.due(store, clock.now, 9)] == [push.id]
