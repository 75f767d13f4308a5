"""The queue of messages to phones: each event once a phone."""

from __future__ import annotations

from support.cast import Clock
from support.ticket_rows import make_job

from fitcounter.store import push_phones, pushes
from fitcounter.store.database import Act, Store
from fitcounter.store.push_phones import NewPushPhone
from fitcounter.store.pushes import NewPush


def queue(store: Store, clock: Clock, *events: str) -> None:
    ticket_id = make_job(store, Act(clock.now, 1)).ticket_id
    new = NewPushPhone(ticket_id=ticket_id, endpoint="https://p.example/1", p256dh="p", auth="a")
    with store.write_tx():
        held = push_phones.add(store, new, clock.now)
        for event in events:
            pushes.add(store, held, NewPush(ticket_id, "answered", event), clock.now)


def test_an_event_is_queued_once_a_phone(store: Store, clock: Clock):
    queue(store, clock, "answered-1", "answered-1")
    assert len(pushes.QUEUE.due(store, clock.now, 9)) == 1
    assert [one.event for one in pushes.since(store, "answered", clock.now)] == ["answered-1"]


def test_what_was_wrong_is_known_until_one_goes_out(store: Store, clock: Clock):
    queue(store, clock, "answered-1", "answered-2")
    one, other = pushes.QUEUE.due(store, clock.now, 9)
    for push in (one, other):
        pushes.QUEUE.take(store, push, clock.now)
    pushes.QUEUE.finish(store, one, "given-up", clock.now, "keys")
    pushes.QUEUE.finish(store, other, "waiting", clock.now, "not-now")
    assert pushes.last_fault(store) == "not-now"
    pushes.QUEUE.finish(store, other, "sent", clock.on(minutes=1))
    assert pushes.last_fault(store) == ""
    sent = pushes.last_sent(store)
    assert sent is not None
    assert sent.event == "answered-2"
