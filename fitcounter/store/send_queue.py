"""A queue of what is to be sent: taken by one sender at a time, tried again later, dropped when it
would tell what is no longer so.

Its table has id, ticket_id, kind, next_at, tries, state (waiting, sent, given-up or dropped), fault
and done_at.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime, timedelta
from typing import Generic, Protocol, TypeVar

from fitcounter.store.database import Store, utc_text


class Queued(Protocol):
    @property
    def id(self) -> int: ...
    @property
    def tries(self) -> int: ...


Kind = TypeVar("Kind", bound=Queued)


@dataclass(frozen=True, slots=True)
class SendQueue(Generic[Kind]):
    """record: a row of the table. beyond: further ahead than any wait; a clock that was wrong then
    said so.
    """

    table: str
    record: type[Kind]
    beyond: timedelta

    def due(self, store: Store, now: datetime, most: int) -> list[Kind]:
        """Those to be tried now, the longest waiting first."""
        return store.all(
            self.record,
            f"SELECT * FROM {self.table} WHERE state = 'waiting' AND (next_at <= ? OR next_at > ?)"
            " ORDER BY next_at, id LIMIT ?",
            utc_text(now),
            utc_text(now + self.beyond),
            most,
        )

    def take(self, store: Store, one: Kind, next_at: datetime) -> bool:
        """Takes one to be tried, before it is: nobody else takes it, and who stops dead in the
        middle leaves it for `next_at`. Whether it was still there to be taken.
        """
        with store.write_tx():
            taken = store.db.execute(
                f"UPDATE {self.table} SET tries = tries + 1, next_at = ?"
                " WHERE id = ? AND state = 'waiting' AND tries = ?",
                [utc_text(next_at), one.id, one.tries],
            ).rowcount
        return bool(taken)

    def finish(self, store: Store, one: Kind, state: str, at: datetime, fault: str = "") -> None:
        """Notes how one ended, or, still waiting, what was wrong. What was dropped meanwhile stays
        so unless it went out.
        """
        done_at = None if state == "waiting" else utc_text(at)
        with store.write_tx():
            store.db.execute(
                f"UPDATE {self.table} SET state = ?, fault = ?, done_at = ? WHERE id = ?"
                " AND (state = 'waiting' OR ? = 'sent')",
                [state, fault, done_at, one.id, state],
            )

    def drop_waiting(self, store: Store, ticket_id: int, kind: str, at: datetime) -> None:
        """What it would tell is no longer so, inside a write."""
        store.db.execute(
            f"UPDATE {self.table} SET state = 'dropped', done_at = ? WHERE ticket_id = ?"
            " AND kind = ? AND state = 'waiting'",
            [utc_text(at), ticket_id, kind],
        )

    def of_ticket(self, store: Store, ticket_id: int) -> list[Kind]:
        """Oldest first."""
        sql = f"SELECT * FROM {self.table} WHERE ticket_id = ? ORDER BY id"
        return store.all(self.record, sql, ticket_id)
