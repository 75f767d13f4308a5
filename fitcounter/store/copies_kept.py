"""How long copies of the shop's file are kept: all of two days, then one a day."""

from __future__ import annotations

from datetime import datetime, timedelta
from pathlib import Path

from fitcounter.store.backup import copies
from fitcounter.store.database import utc_text

# so that what a customer had erased is gone from the copies too (shop's choice within a month's
# reason)
KEPT_DAYS = 35
DENSE_DAYS = 2  # copies come after each pickup; of older days the last is enough
KEPT_ALWAYS = 7


def expire(folder: Path, now: datetime) -> None:
    """Every copy for two days, then the last of each day, none after its days, but the newest seven
    with their note always stay; what was broken off half-way goes after a day.

    now: of a clock that can be trusted.
    """
    oldest, dense = (
        utc_text(now - timedelta(days=KEPT_DAYS)),
        utc_text(now - timedelta(days=DENSE_DAYS)),
    )
    seen: set[str] = set()
    for n, copy in enumerate(one for one in copies(folder) if one.made_at):  # newest first
        day = copy.made_at[:10]
        if n >= KEPT_ALWAYS and (copy.made_at < oldest or (copy.made_at < dense and day in seen)):
            copy.path.unlink()
            copy.path.with_suffix(".json").unlink(missing_ok=True)
        seen.add(day)
    for half in folder.glob("shop-*.db.part"):
        if half.stat().st_mtime < now.timestamp() - timedelta(days=1).total_seconds():
            half.unlink()
