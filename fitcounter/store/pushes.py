"""The queue of messages to phones."""

from __future__ import annotations

from datetime import datetime, timedelta
from typing import NamedTuple

from fitcounter.store.database import Store, utc_text
from fitcounter.store.send_queue import SendQueue


class Push(NamedTuple):
    """kind: put-on, take-off, missed, answered and ready for a customer; hold and not-right for the
    staff. event: what it tells of, once a phone. queued_at: from when it holds.
    state: waiting, sent, given-up or dropped. fault: of the last try, in a word.
    """

    id: int
    push_phone_id: int
    ticket_id: int
    kind: str
    event: str
    queued_at: str
    next_at: str
    tries: int
    state: str
    fault: str
    done_at: str | None


QUEUE = SendQueue("pushes", Push, beyond=timedelta(days=1))


class NewPush(NamedTuple):
    ticket_id: int
    kind: str
    event: str


def add(store: Store, push_phone_id: int, new: NewPush, at: datetime) -> None:
    """Queues one to go out at `at`, inside a write; an event that this phone was told of, or is to
    be, is not queued again.
    """
    store.db.execute(
        "INSERT INTO pushes (push_phone_id, ticket_id, kind, event, queued_at, next_at)"
        " VALUES (?, ?, ?, ?, ?, ?) ON CONFLICT (push_phone_id, event) DO NOTHING",
        [push_phone_id, new.ticket_id, new.kind, new.event, utc_text(at), utc_text(at)],
    )


def last_sent(store: Store) -> Push | None:
    sql = "SELECT * FROM pushes WHERE state = 'sent' ORDER BY done_at DESC, id DESC LIMIT 1"
    return store.first(Push, sql)


def last_fault(store: Store) -> str:
    """What was wrong with the last one that was tried, "" where it went out."""
    sql = (
        "SELECT fault FROM pushes WHERE tries > 0 AND state <> 'dropped'"
        " ORDER BY coalesce(done_at, '9') DESC, id DESC LIMIT 1"
    )
    return str(store.value(sql) or "")


def since(store: Store, kind: str, now: datetime) -> list[Push]:
    """Those of a kind that were queued within a day."""
    sql = "SELECT * FROM pushes WHERE kind = ? AND queued_at >= ?"
    return store.all(Push, sql, kind, utc_text(now - timedelta(days=1)))
