"""One round of one boot: how far it was opened, from when its rested reading counts, and a kept
fraction in words.

Lengths are millimetres as read (a width where laid flat). Sources: `handbook_rounds`,
`handbook_leg`.
"""

from __future__ import annotations

from datetime import datetime, timedelta

from fitcounter.fit.handbook.leg import FLAT_FACTOR
from fitcounter.fit.handbook.rounds import REST_H

REST = timedelta(hours=REST_H)
# How people say a share of an opening; each holds up to its figure (shop's choice of words).
KEPT_WORDS = (
    (0.1, "hardly any"),
    (0.3, "about a quarter"),
    (0.4, "about a third"),
    (0.6, "about half"),
    (0.72, "about two thirds"),
)


def grown_mm(before_mm: float | None, after_mm: float | None, method: str) -> float | None:
    """Growth round the girth between two readings by one method; a width laid flat counts double.

    None where one is missing.
    """
    if before_mm is None or after_mm is None:
        return None
    return (after_mm - before_mm) * (FLAT_FACTOR if method == "flat" else 1)


def counts_from(off_at: datetime) -> datetime:
    """The instant from which a rested reading counts."""
    return off_at + REST


def kept_words(kept: float) -> str:
    """A kept fraction as people say it: "about half"."""
    return next((words for most, words in KEPT_WORDS if kept < most), "most of it")
