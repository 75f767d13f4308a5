"""A disk that fails at the Nth statement that writes: full, or an error of reading and writing; once, or from then on."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from typing import Any

import pytest

from fitcounter.store import database

WRITES = ("INSERT", "UPDATE", "DELETE", "REPLACE", "COMMIT", "BEGIN IMMEDIATE")
WORDS = {"full": "database or disk is full", "broken": "disk I/O error"}


@dataclass
class Fault:
    """at: which write fails, from 1 on. struck: how often it did. for_ever: all that come after it fail too."""

    at: int
    kind: str
    for_ever: bool
    steps: int = 0
    struck: int = 0


@contextmanager
def failing(patch: pytest.MonkeyPatch, fault: Fault) -> Iterator[None]:
    """Every connection opened meanwhile counts its writes together, and fails at the one that is named.

    As SQLite does where the disk is full, the transaction is gone before the error is raised.
    """

    class Failing(database.dbapi.Connection):  # type: ignore[misc, name-defined]  # a class of the module in use
        def execute(self, sql: str, *given: Any) -> Any:
            if sql.lstrip().upper().startswith(WRITES):
                fault.steps += 1
                if fault.steps == fault.at or (fault.for_ever and fault.steps > fault.at):
                    fault.struck += 1
                    if self.in_transaction:
                        super().execute("ROLLBACK")
                    raise database.dbapi.OperationalError(WORDS[fault.kind])
            return super().execute(sql, *given)

    opens = database.dbapi.connect

    def connect(*given: Any, **more: Any) -> Any:
        return opens(*given, factory=Failing, **more)

    with patch.context() as one:
        one.setattr(database.dbapi, "connect", connect)
        yield
