"""One row that two people want to change at the same moment, and what a race is made from."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from support.cast import Clock

from fitcounter.store.database import Act, Store

Form = dict[str, object]


@dataclass
class Race:
    """One row that two want to change.

    form: what somebody sends who writes these words; stored: the words that stand in the row.
    """

    what: str
    path: str
    form: Callable[[str], Form]
    stored: Callable[[], object]
    written: Callable[[str], str] = lambda word: word  # as the row keeps it
    shown: Callable[[str], str] = lambda word: word  # as a page shows it


@dataclass(frozen=True)
class Shop:
    """What a race is made from."""

    store: Store
    act: Act
    clock: Clock

    def value(self, sql: str, *values: object) -> object:
        return self.store.value(sql, *values)
