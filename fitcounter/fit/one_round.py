"""One round of one boot as it was read: what was opened, what was gained, what was kept, and which reading counts.

All readings of a round use one method at one mark, so that the wall cancels. Lengths are millimetres as read (a width where
laid flat). Sources: `handbook_rounds`.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime, timedelta

from fitcounter.fit.handbook_leg import FLAT_FACTOR
from fitcounter.fit.handbook_rounds import REST_H

REST = timedelta(hours=REST_H)


@dataclass(frozen=True, slots=True)
class RoundRead:
    """A round's readings; None was not read. on_tree_mm: after the last turn that was read. rested_counts: not read too early."""

    method: str
    before_mm: float | None = None
    on_tree_mm: float | None = None
    rested_mm: float | None = None
    rested_method: str = ""
    rested_counts: bool = True

    @property
    def opening_mm(self) -> float | None:
        """How far it was opened round the girth, None where not read."""
        return grown_mm(self.before_mm, self.on_tree_mm, self.method)

    @property
    def gain_mm(self) -> float | None:
        """What it gained, rested; None where not read, read too early or by another method."""
        if not self.rested_counts or self.rested_method not in ("", self.method):
            return None
        return grown_mm(self.before_mm, self.rested_mm, self.method)

    @property
    def kept(self) -> float | None:
        """Gain ÷ opening, None where either is not known."""
        opening, gain = self.opening_mm, self.gain_mm
        return None if opening is None or gain is None or opening <= 0 else gain / opening

    @property
    def two_methods(self) -> bool:
        """Read before by one method and rested by another: no kept fraction comes of it."""
        return self.rested_mm is not None and self.before_mm is not None and self.rested_method not in ("", self.method)


def grown_mm(before_mm: float | None, after_mm: float | None, method: str) -> float | None:
    """Growth round the girth between two readings by one method; a width laid flat counts double."""
    if before_mm is None or after_mm is None:
        return None
    return (after_mm - before_mm) * (FLAT_FACTOR if method == "flat" else 1)


def counts_from(off_at: datetime) -> datetime:
    """The instant from which a rested reading counts."""
    return off_at + REST


def held_h(last_turn_at: datetime, off_at: datetime) -> float:
    """Hours held, counted from the last turn."""
    return max(0.0, (off_at - last_turn_at) / timedelta(hours=1))


def kept_words(kept: float) -> str:
    """A kept fraction as people say it: "about half"."""
    names = ((0.1, "hardly any"), (0.3, "about a quarter"), (0.4, "about a third"), (0.6, "about half"), (0.72, "about two thirds"))
    return next((name for most, name in names if kept < most), "most of it" if kept < 0.95 else "all of it")
