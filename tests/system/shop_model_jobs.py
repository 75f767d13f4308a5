"""What the model knows of its jobs: a ticket, its two boots, and what was foreseen of a promise."""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass, field
from datetime import UTC, date, datetime
from typing import Any

from hypothesis import strategies as st

START = datetime(2026, 3, 17, 14, 0, tzinfo=UTC)
MOST_JOBS = 3
TREES = ("4", "5")
SHELVES = ("A1", "B2", "C3")
PRICE, DEPOSIT = 9000, 3000
GONE = ("out", "closed")
BOOTS = st.integers(0, 23)
taken: Counter[str] = (
    Counter()
)  # over every machine of a run: how often each step was taken, and how often refused


@dataclass
class Boot:
    """What must stand of one boot. back: how it was before each step that can be taken back."""

    id: int
    side: str
    state: str = "counter"
    version: int = 1
    tree: str = ""
    shelf: str = ""
    rounds: int = 0
    open_round: bool = False  # the last round has no outcome yet
    off_at: datetime | None = None
    back: list[tuple[str, dict[str, Any]]] = field(default_factory=list)

    def seen(self) -> dict[str, Any]:
        names = ("state", "tree", "shelf", "rounds", "open_round", "off_at")
        return {name: getattr(self, name) for name in names}


@dataclass
class Job:
    """What must stand of one ticket."""

    ticket_id: int
    fit_id: int
    customer_id: int
    name: str
    boots: list[Boot]
    measured: bool = False
    agreed: bool = False
    due: int = 0
    payments: int = 0
    comebacks: int = 0
    state: str = "open"
    erased: bool = False


@dataclass(frozen=True)
class Foreseen:
    """What was known of a promise at the end of an open day. called: a line in Calls to make.

    could: the likely rounds would still have done.
    """

    promised: date
    called: bool
    could: bool
