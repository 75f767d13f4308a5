"""Failed tries by key.

In the shop's file, so that they outlive a restart and count for every thread alike.
"""

from __future__ import annotations

from typing import NamedTuple

from fitcounter.store.database import Store


class Failures(NamedTuple):
    """How often in a row it failed, and when the next try is looked at (UTC text)."""

    key: str
    failures: int
    next_at: str


def get(store: Store, key: str) -> Failures | None:
    return store.first(Failures, "SELECT * FROM throttle WHERE key = ?", key)


def put(store: Store, key: str, failures: int, next_at: str) -> None:
    """Inside a write."""
    store.db.execute(
        "INSERT INTO throttle (key, failures, next_at) VALUES (?, ?, ?)"
        " ON CONFLICT (key) DO UPDATE SET failures = excluded.failures, next_at = excluded.next_at",
        [key, failures, next_at],
    )


def drop(store: Store, key: str) -> None:
    """Inside a write."""
    store.db.execute("DELETE FROM throttle WHERE key = ?", [key])


def drop_before(store: Store, before: str) -> None:
    """Those whose last try is long ago, inside a write. before: UTC text."""
    store.db.execute("DELETE FROM throttle WHERE next_at < ?", [before])


def drop_under(store: Store, start: str) -> None:
    """All keys with this start, inside a write."""
    store.db.execute("DELETE FROM throttle WHERE substr(key, 1, ?) = ?", [len(start), start])


def total(store: Store, start: str, since: str) -> int:
    """The failures of all keys with this start whose last try is not long ago. since: UTC text."""
    return int(
        store.value(
            "SELECT coalesce(sum(failures), 0) FROM throttle WHERE substr(key, 1, ?) = ?"
            " AND next_at >= ?",
            len(start),
            start,
            since,
        )
    )
