"""The statements that a shop's file is asked while something runs, and how SQLite would go about
each.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from typing import Any

import pytest
from support.opened_anew import opened_anew

from fitcounter.store import database

_LITERAL = re.compile(r"'(?:[^']|'')*'|\b\d+(?:\.\d+)?\b|x'[0-9a-fA-F]*'", re.IGNORECASE)
_ASKS = re.compile(r"\s*(?:SELECT|UPDATE|DELETE|WITH|INSERT)\b", re.IGNORECASE)
_SCAN = re.compile(r"SCAN (\w+)(?: USING (?:COVERING )?INDEX (\w+))?")


@contextmanager
def asked(monkeypatch: pytest.MonkeyPatch) -> Iterator[dict[str, str]]:
    """Every statement asked inside the block through connections opened there: without its values
    → as it was asked once.
    """
    seen: dict[str, str] = {}
    with told(
        monkeypatch,
        lambda statement: seen.setdefault(without_values(statement), statement),
    ):
        yield seen


@contextmanager
def told(monkeypatch: pytest.MonkeyPatch, note: Callable[[str], object]) -> Iterator[None]:
    """Tells of every statement asked inside the block through connections opened there."""
    connected = database.connected

    def look(statement: str) -> None:
        if _ASKS.match(statement):
            note(statement)

    def watched(*given: Any) -> Any:
        opened = connected(*given)
        opened.conn.set_trace_callback(look)
        return opened

    with monkeypatch.context() as patch:
        opened_anew(patch)
        patch.setattr(database, "connected", watched)
        yield


def without_values(statement: str) -> str:
    """A statement as it is written, a mark in the place of each value."""
    return _LITERAL.sub("?", " ".join(statement.split()))


def scanned(store: database.Store, statement: str, tables: set[str]) -> set[str]:
    """Those of the tables that SQLite reads from end to end for this statement. An index over a
    part of the rows, such as those of open tickets, holds that part alone and does not count.
    """
    plan = store.db.conn.execute(f"EXPLAIN QUERY PLAN {statement}").fetchall()
    of_a_part = {
        row["name"]
        for row in store.rows("SELECT name FROM sqlite_master WHERE sql LIKE 'CREATE% WHERE %'")
    }
    read = {
        found[1]
        for row in plan
        if (found := _SCAN.match(row[3])) is not None and found[2] not in of_a_part
    }
    names = _names(statement)
    return {names.get(name, name) for name in read} & tables


def _names(statement: str) -> dict[str, str]:
    """The short names that tables have in a statement → the tables."""
    pairs = re.findall(r"\b(?:FROM|JOIN|,)\s+(\w+)\s+(?:AS\s+)?(\w+)", statement, re.IGNORECASE)
    return {short: table for table, short in pairs}
