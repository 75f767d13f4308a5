"""The queue of e-mails, and who wants none."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime, timedelta

from fitcounter.store.database import Store, utc_text

# Further ahead than any wait: a clock that was wrong then said so.
BEYOND_ANY_WAIT = timedelta(days=2)


@dataclass(frozen=True, slots=True)
class Mail:
    """kind: claim, late, ready, calendar, follow-up or guarantee. event: what it tells of, once.

    state: waiting, sent, given-up or dropped. fault: of the last try, in a word.
    """

    id: int
    ticket_id: int
    kind: str
    event: str
    queued_at: str
    next_at: str
    tries: int
    state: str
    fault: str
    done_at: str | None


def add(store: Store, ticket_id: int, kind: str, event: str, at: datetime, after: datetime) -> None:
    """Queues one for `after`, inside a write; an event that was queued before is not queued
    again.
    """
    store.db.execute(
        "INSERT INTO mails (ticket_id, kind, event, queued_at, next_at) VALUES (?, ?, ?, ?, ?)"
        " ON CONFLICT (event) DO NOTHING",
        [ticket_id, kind, event, utc_text(at), utc_text(after)],
    )


def due(store: Store, now: datetime, most: int) -> list[Mail]:
    """Those to be tried now, the longest waiting first."""
    return store.all(
        Mail,
        "SELECT * FROM mails WHERE state = 'waiting' AND (next_at <= ? OR next_at > ?)"
        " ORDER BY next_at, id LIMIT ?",
        utc_text(now),
        utc_text(now + BEYOND_ANY_WAIT),
        most,
    )


def take(store: Store, mail: Mail, next_at: datetime) -> bool:
    """Takes one to be tried, before it is: nobody else takes it, and who stops dead in the middle
    leaves it for `next_at`. Whether it was still there to be taken.
    """
    with store.write_tx():
        taken = store.db.execute(
            "UPDATE mails SET tries = tries + 1, next_at = ? WHERE id = ? AND state = 'waiting'"
            " AND tries = ?",
            [utc_text(next_at), mail.id, mail.tries],
        ).rowcount
    return bool(taken)


def finish(store: Store, mail: Mail, state: str, at: datetime, fault: str = "") -> None:
    """Notes how one ended, or, still waiting, what was wrong. What was dropped meanwhile stays so
    unless it went out.
    """
    done_at = None if state == "waiting" else utc_text(at)
    with store.write_tx():
        store.db.execute(
            "UPDATE mails SET state = ?, fault = ?, done_at = ? WHERE id = ?"
            " AND (state = 'waiting' OR ? = 'sent')",
            [state, fault, done_at, mail.id, state],
        )


def drop_waiting(store: Store, ticket_id: int, kind: str, at: datetime) -> None:
    """What it would tell is no longer so, inside a write."""
    store.db.execute(
        "UPDATE mails SET state = 'dropped', done_at = ? WHERE ticket_id = ? AND kind = ?"
        " AND state = 'waiting'",
        [utc_text(at), ticket_id, kind],
    )


def of_ticket(store: Store, ticket_id: int) -> list[Mail]:
    """Oldest first."""
    return store.all(Mail, "SELECT * FROM mails WHERE ticket_id = ? ORDER BY id", ticket_id)


def given_up(store: Store, since: datetime) -> list[Mail]:
    """What nobody got since then, of tickets on which nobody has called or written after it."""
    return store.all(
        Mail,
        "SELECT * FROM mails WHERE state = 'given-up' AND done_at >= ? AND NOT EXISTS (SELECT 1"
        " FROM calls WHERE calls.ticket_id = mails.ticket_id AND calls.at >= mails.done_at)"
        " ORDER BY id",
        utc_text(since),
    )


def waiting(store: Store) -> int:
    """How many wait."""
    return int(store.value("SELECT count(*) FROM mails WHERE state = 'waiting'"))


def last(store: Store, state: str) -> Mail | None:
    """The last one that ended so."""
    return store.first(
        Mail, "SELECT * FROM mails WHERE state = ? ORDER BY done_at DESC, id DESC LIMIT 1", state
    )


def last_fault(store: Store) -> str:
    """What was wrong with one that still waits, "" where nothing was."""
    sql = "SELECT fault FROM mails WHERE state = 'waiting' AND fault <> '' ORDER BY id LIMIT 1"
    return str(store.value(sql) or "")


def is_stopped(store: Store, customer_id: int) -> bool:
    return bool(store.value("SELECT 1 FROM mail_stops WHERE customer_id = ?", customer_id))


def stop(store: Store, customer_id: int, at: datetime) -> None:
    """The customer wants none, inside a write; what waits for them goes nowhere."""
    store.db.execute(
        "INSERT INTO mail_stops (customer_id, at) VALUES (?, ?) ON CONFLICT DO NOTHING",
        [customer_id, utc_text(at)],
    )
    store.db.execute(
        "UPDATE mails SET state = 'dropped', done_at = ? WHERE state = 'waiting' AND ticket_id IN"
        " (SELECT id FROM tickets WHERE customer_id = ?)",
        [utc_text(at), customer_id],
    )


def allow(store: Store, customer_id: int) -> None:
    """The customer wants them again, inside a write."""
    store.db.execute("DELETE FROM mail_stops WHERE customer_id = ?", [customer_id])
