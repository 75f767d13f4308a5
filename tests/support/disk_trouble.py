"""Trouble with the disk, as it really comes: the file is full, held by somebody, or read-only; and
a count of what the file holds.
"""

from __future__ import annotations

import functools
import hashlib
from collections.abc import Iterator
from contextlib import contextmanager
from typing import Any

import pytest
from support.cast import Clock
from support.opened_anew import opened_anew

from fitcounter.desk.plan import kept_for_boots_at_home, plan_changes
from fitcounter.desk.plan import plan as bench_plan
from fitcounter.desk.shop import Act, Store, Written
from fitcounter.fit.plan import plan as bench_fit
from fitcounter.store import connection

# What is written beside the shop's own records on the way to an answer, refused or not: who was
# here, how often was tried.
BESIDE = ("sessions", "throttle", "drafts")


def content(store: Store, beside: tuple[str, ...] = BESIDE) -> dict[str, str]:
    """A hash of every table of the shop's records."""
    return content_of(store.db.conn, beside)


def content_of(connection: Any, beside: tuple[str, ...] = BESIDE) -> dict[str, str]:
    """The same by a connection to the file, or to a copy of it."""
    return {
        name: hashlib.sha256(repr(rows).encode()).hexdigest()
        for name, rows in rows_of(connection, beside).items()
    }


def rows_of(connection: Any, beside: tuple[str, ...] = BESIDE) -> dict[str, list[Any]]:
    """Every row of every table of the shop's records: to be compared as they are takes half as long
    as hashes of them.
    """
    names = [
        name
        for (name,) in connection.execute(
            "SELECT name FROM sqlite_master WHERE type = 'table' ORDER BY name"
        )
    ]
    return {
        name: connection.execute(f"SELECT * FROM {name} ORDER BY 1").fetchall()
        for name in names
        if name not in beside
    }


@contextmanager
def full_disk(store: Store, monkeypatch: pytest.MonkeyPatch) -> Iterator[None]:
    """Every new connection finds no page left: the real SQLITE_FULL, from the real file."""
    wide = Written(
        detail={"filler": "x" * 3780}
    )  # a row as wide as a page: the next row of the audit needs another page
    store.once(Act(Clock().now), "filler", lambda: wide)
    while store.value("PRAGMA freelist_count"):
        store.once(Act(Clock().now), "filler", lambda: wide)
    pages, opens = store.value("PRAGMA page_count"), Store.__init__

    def opened(self: Store, *given: object, **more: object) -> None:
        opens(self, *given, **more)  # type: ignore[arg-type]
        self.db.execute(f"PRAGMA max_page_count = {pages}")

    with monkeypatch.context() as patch:
        opened_anew(patch)
        patch.setattr(Store, "__init__", opened)
        yield


@contextmanager
def locked(store: Store, monkeypatch: pytest.MonkeyPatch) -> Iterator[None]:
    """Somebody holds the file for longer than anybody waits."""
    with monkeypatch.context() as patch:
        opened_anew(patch)
        patch.setattr(connection, "BUSY_MS", 30)
        store.db.execute("BEGIN IMMEDIATE")
        try:
            yield
        finally:
            store.db.execute("ROLLBACK")


@contextmanager
def read_only(store: Store, monkeypatch: pytest.MonkeyPatch) -> Iterator[None]:
    """The disk was remounted read-only: every write is refused."""
    opens = Store.__init__

    def opened(self: Store, *given: object, **more: object) -> None:
        opens(self, *given, **more)  # type: ignore[arg-type]
        self.db.execute("PRAGMA query_only = ON")

    with monkeypatch.context() as patch:
        opened_anew(patch)
        patch.setattr(Store, "__init__", opened)
        yield


def plans_kept(patch: pytest.MonkeyPatch) -> None:
    """The same bench is planned once, with little looking for a better order: how good a plan is,
    is tested elsewhere, and takes long.
    """
    kept = functools.cache(functools.partial(bench_fit.plan, placements=500))
    for room in (bench_plan, plan_changes, kept_for_boots_at_home):
        patch.setattr(room, "plan", kept)
