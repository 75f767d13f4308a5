"""The queue of messages to phones."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime, timedelta

from fitcounter.store.database import Store, utc_text

# Further ahead than any wait: a clock that was wrong then said so.
BEYOND_ANY_WAIT = timedelta(days=1)


@dataclass(frozen=True, slots=True)
class Push:
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


@dataclass(frozen=True, slots=True)
class NewPush:
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


def due(store: Store, now: datetime, most: int) -> list[Push]:
    """Those to be tried now, the longest waiting first."""
    return store.all(
        Push,
        "SELECT * FROM pushes WHERE state = 'waiting' AND (next_at <= ? OR next_at > ?)"
        " ORDER BY next_at, id LIMIT ?",
        utc_text(now),
        utc_text(now + BEYOND_ANY_WAIT),
        most,
    )


def take(store: Store, push: Push, next_at: datetime) -> bool:
    """Takes one to be tried, before it is: nobody else takes it, and who stops dead in the middle
    leaves it for `next_at`. Whether it was still there to be taken.
    """
    with store.write_tx():
        taken = store.db.execute(
            "UPDATE pushes SET tries = tries + 1, next_at = ? WHERE id = ? AND state = 'waiting'"
            " AND tries = ?",
            [utc_text(next_at), push.id, push.tries],
        ).rowcount
    return bool(taken)


def finish(store: Store, push: Push, state: str, at: datetime, fault: str = "") -> None:
    """Notes how one ended, or, still waiting, what was wrong. What was dropped meanwhile stays so
    unless it went out.
    """
    done_at = None if state == "waiting" else utc_text(at)
    with store.write_tx():
        store.db.execute(
            "UPDATE pushes SET state = ?, fault = ?, done_at = ? WHERE id = ?"
            " AND (state = 'waiting' OR ? = 'sent')",
            [state, fault, done_at, push.id, state],
        )


def drop_waiting(store: Store, ticket_id: int, kind: str, at: datetime) -> None:
    """What it would tell is no longer so, inside a write."""
    store.db.execute(
        "UPDATE pushes SET state = 'dropped', done_at = ? WHERE ticket_id = ? AND kind = ?"
        " AND state = 'waiting'",
        [utc_text(at), ticket_id, kind],
    )


def of_ticket(store: Store, ticket_id: int) -> list[Push]:
    """Oldest first."""
    return store.all(Push, "SELECT * FROM pushes WHERE ticket_id = ? ORDER BY id", ticket_id)


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
