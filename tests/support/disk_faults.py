"""A disk that fails at the Nth thing that writes: full, or an error of reading and writing; once,
or from then on.
"""

from __future__ import annotations

import errno
import os
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field
from itertools import groupby
from typing import Any

import pytest
from support.opened_anew import opened_anew

from fitcounter.store import database

WRITES = ("INSERT", "UPDATE", "DELETE", "REPLACE", "COMMIT", "BEGIN IMMEDIATE", "VACUUM")
WORDS = {"full": "database or disk is full", "broken": "disk I/O error"}
NEXT = -1
NUMBERS = {"full": errno.ENOSPC, "broken": errno.EIO}


@dataclass
class Fault:
    """at: which write fails, from 1 on; 0 for none; NEXT for the first after something was kept.

    struck: how often it did. for_ever: all that come after it fail too. seen: every write.
    """

    at: int
    kind: str
    for_ever: bool
    steps: int = 0
    struck: int = 0
    seen: list[str] = field(default_factory=list, repr=False)

    def strikes(self, what: str) -> bool:
        """Counts one write. Does it fail?"""
        self.steps += 1
        next_one = (
            self.at == NEXT
            and not self.struck
            and any(one.startswith("COMMIT") for one in self.seen)
        )
        self.seen.append(what)
        hit = next_one or self.steps == self.at or (self.for_ever and self.steps > self.at > 0)
        self.struck += hit
        return hit


def each(seen: list[str]) -> list[int]:
    """Every write by its number; of more than three equal ones in a row the first two and the
    last.
    """
    runs = [list(run) for _, run in groupby(enumerate(seen, 1), key=lambda one: one[1])]
    return [n for run in runs for n, _ in (run if len(run) < 4 else (*run[:2], run[-1]))]


@contextmanager
def failing(patch: pytest.MonkeyPatch, fault: Fault) -> Iterator[None]:
    """Statements of every connection opened meanwhile, and files that are made, brought to the
    disk, renamed or removed, count together.

    As SQLite does where the disk is full, the transaction is gone before the error is raised.
    """

    # a class of the module in use
    class Failing(database.dbapi.Connection):  # type: ignore[misc, name-defined]
        def execute(self, sql: str, *given: Any) -> Any:
            self._count(sql)
            return super().execute(sql, *given)

        def executemany(self, sql: str, *given: Any) -> Any:
            self._count(sql)
            return super().executemany(sql, *given)

        def _count(self, sql: str) -> None:
            if sql.lstrip().upper().startswith(WRITES) and fault.strikes(sql):
                if self.in_transaction:
                    super().execute("ROLLBACK")
                raise database.dbapi.OperationalError(WORDS[fault.kind])

    opens = database.dbapi.connect

    def connect(*given: Any, **more: Any) -> Any:
        return opens(*given, factory=Failing, **more)

    with patch.context() as one:
        opened_anew(one)
        one.setattr(database.dbapi, "connect", connect)
        for name in ("open", "fsync", "rename", "unlink"):
            one.setattr(os, name, _failing_too(name, fault))
        yield


def _failing_too(name: str, fault: Fault) -> Any:
    """What asks the system itself. What clears up after a fault that struck is let through."""
    works = getattr(os, name)

    def call(*given: Any, **more: Any) -> Any:
        writes = (
            bool(given[1] & os.O_CREAT) if name == "open" else name != "unlink" or not fault.struck
        )
        if writes and fault.strikes(name):
            raise OSError(NUMBERS[fault.kind], os.strerror(NUMBERS[fault.kind]))
        return works(*given, **more)

    return call
