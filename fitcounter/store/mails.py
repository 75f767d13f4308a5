"""The queue of e-mails, and who wants none."""

from __future__ import annotations

from datetime import datetime, timedelta
from typing import NamedTuple

from fitcounter.store.database import Store, utc_text
from fitcounter.store.send_queue import SendQueue


class Mail(NamedTuple):
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


QUEUE = SendQueue("mails", Mail, beyond=timedelta(days=2))


def add(store: Store, ticket_id: int, kind: str, event: str, at: datetime, after: datetime) -> None:
    """Queues one for `after`, inside a write; an event that was queued before is not queued
    again.
    """
    store.db.execute(
        "INSERT INTO mails (ticket_id, kind, event, queued_at, next_at) VALUES (?, ?, ?, ?, ?)"
        " ON CONFLICT (event) DO NOTHING",
        [ticket_id, kind, event, utc_text(at), utc_text(after)],
    )


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
