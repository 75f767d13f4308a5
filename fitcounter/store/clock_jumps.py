"""Whether the instants in the audit follow each other as days do, or the clock once leapt ahead.

How far they were looked at is kept among the settings, so that a night reads what is new alone.
"""

from __future__ import annotations

from datetime import datetime, timedelta
from typing import NamedTuple

from fitcounter.store import settings
from fitcounter.store.database import Store, utc_text, utc_time

LEAP = timedelta(days=2)
_SEEN = "clock_seen"  # the last row that is in order, and the latest instant up to it


class Leap(NamedTuple):
    """From the last thing written before to the first one after, or to now; aware UTC."""

    last: datetime
    next: datetime


def first_leap(store: Store, now: datetime) -> Leap | None:
    """The first leap of more than two days that nobody has said to be right; None where all is in
    order, which is then kept.
    """
    row_id, latest = _seen(store)
    for row in store.rows("SELECT id, at FROM audit WHERE id > ? ORDER BY id", row_id):
        at = utc_time(row["at"])
        if latest is not None and at - latest > LEAP:
            return Leap(latest, at)
        row_id, latest = int(row["id"]), max(at, latest or at)
    return Leap(latest, now) if latest is not None and now - latest > LEAP else None


def keep_seen(store: Store, at: datetime) -> None:
    """All up to the newest row is in order, and `at` is when that was said; inside a write."""
    row_id = store.value("SELECT max(id) FROM audit")
    if row_id is not None:
        settings.put(store, _SEEN, [int(row_id), utc_text(at)])


def _seen(store: Store) -> tuple[int, datetime | None]:
    row_id, at = settings.everything(store).get(_SEEN, [0, None])
    return int(row_id), None if at is None else utc_time(at)
