"""The queue of e-mails: each event once, and a customer who wants none."""

from __future__ import annotations

from datetime import timedelta

from support.cast import Clock
from support.ticket_rows import make_job

from fitcounter.store import mails, tickets
from fitcounter.store.database import Act, Store


def test_an_event_is_queued_once_and_a_stop_takes_what_waits(store: Store, clock: Clock):
    job, now = make_job(store, Act(clock.now, 1)), clock.now
    with store.write_tx():
        for _ in range(2):
            mails.add(store, job.ticket_id, "ready", "ready-1", now, now)
        mails.add(store, job.ticket_id, "late", "late-1", now, now + timedelta(minutes=10))
    assert [one.event for one in mails.QUEUE.due(store, now, 9)] == ["ready-1"]
    assert mails.waiting(store) == 2
    customer_id = tickets.get(store, job.ticket_id).customer_id
    with store.write_tx():
        mails.stop(store, customer_id, now)
        mails.stop(store, customer_id, now)
    assert mails.is_stopped(store, customer_id)
    assert {one.state for one in mails.QUEUE.of_ticket(store, job.ticket_id)} == {"dropped"}
    with store.write_tx():
        mails.allow(store, customer_id)
    assert not mails.is_stopped(store, customer_id)
