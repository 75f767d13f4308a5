"""Where the invented story is played: the file, its people, the clock, and the rows of each job."""

from __future__ import annotations

from dataclasses import dataclass, field
from datetime import date, datetime, time, timedelta
from pathlib import Path
from typing import Any
from zoneinfo import ZoneInfo

from fitcounter.desk.shop import Shop
from fitcounter.store.database import Act, Store

OPENED_AT = time(9, 10)


@dataclass
class PlayedJob:
    """A job of the story and the rows it became in the shop's file.

    story: its part of jobs.json. items: item ids by side ("left"), or by kind where it has none.
    """

    story: dict[str, Any]
    ticket_id: int = 0
    fit_id: int | None = None
    items: dict[str, int] = field(default_factory=dict)


@dataclass(frozen=True)
class Stage:
    """The shop's file and settings, staff ids by initials, and the moment of playing (aware)."""

    store: Store
    shop: Shop
    people: dict[str, int]
    now: datetime
    data_dir: Path

    def at(self, day: int, hour: str = "") -> datetime:
        """That hour ("9:30", else the opening) so many days from today, never later than now."""
        zone = ZoneInfo(self.shop.zone)
        clock = time.fromisoformat(hour.zfill(5)) if hour else OPENED_AT
        return min(datetime.combine(self.day(day), clock, tzinfo=zone), self.now)

    def day(self, day: int) -> date:
        """The shop-local day so many days from today."""
        return self.shop.today(self.now) + timedelta(days=day)

    def act(self, day: int, hour: str = "", who: str = "CO") -> Act:
        """Something done then by the person with those initials."""
        return Act(self.at(day, hour), self.people[who])
