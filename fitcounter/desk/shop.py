"""The shop as the owner set it: every choice with its default.

Read once a request; never written from a view but through here.
"""

from __future__ import annotations

import json
from dataclasses import dataclass, fields
from datetime import date, datetime, time
from functools import lru_cache
from typing import Any, Literal
from zoneinfo import ZoneInfo

from fitcounter.errors import Conflict, message
from fitcounter.how_far import Told, also_told_to, told_to
from fitcounter.store import settings
from fitcounter.store.connections import EachOpens, KeptOpen
from fitcounter.store.database import Act, Store, Written
from fitcounter.store.opening import open_store
from fitcounter.store.records import Person

# The doors of the store that the web and the command line come in by; they import nothing of it
# themselves.
__all__ = [
    "Act",
    "EachOpens",
    "KeptOpen",
    "Person",
    "Shop",
    "Store",
    "Told",
    "Written",
    "also_told_to",
    "choose",
    "open_store",
    "read",
    "told_to",
]


@dataclass(frozen=True, slots=True)
class Shop:
    """All that is the shop's choice. Money in minor units, lengths in mm, weekdays 0 = Monday.

    hours: "12" or "24", paper: "a4" or "letter"; "" for both as the country has them. slip_paper:
    of claim checks and receipts, "a6", "half", "roll80" or "roll58"; "" as the other papers.
    day_hours: of each weekday "09:00-13:00", "" as usual.
    """

    name: str = "The boot counter"
    phone: str = ""
    address: str = ""
    zone: str = "America/New_York"
    locale: str = "en_US"
    currency: str = "USD"
    country: str = "US"
    unit: str = "in"
    hours: str = ""
    paper: str = ""
    slip_paper: str = ""
    name_on_tag: bool = False
    open_days: tuple[int, ...] = (1, 2, 3, 4, 5)
    opens_at: str = "09:00"
    closes_at: str = "18:00"
    day_hours: tuple[str, ...] = ()
    limits: str = "usual"
    hold_h: int = 168
    max_rounds: int = 4
    rounds_included: int = 2
    stretch_minor: int = 9000
    round_minor: int = 3000
    panel_minor: int = 14000
    rush_minor: int = 2500
    deposit_percent: int = 30
    tax_basis_points: int = 0
    tax_included: bool = False
    tax_number: str = ""
    price_kind: str = "quote"
    heights_mm: tuple[float, ...] = (114.3, 165.1, 215.9, 266.7, 317.5, 368.3)
    guarantee_years: int = 1
    guarantee_days: int = 0
    preset: str = "three-short-wears"
    rest_from: Literal["start", "end"] = "start"
    wear_minutes: tuple[int, ...] = ()
    wear_hour: int = 18
    reminders_days: tuple[int, ...] = (7, 14, 30, 60, 90)
    shelves: tuple[str, ...] = ()
    link_days_after: int = 30
    send_link: bool = True
    photo_days: int = 90
    measure_months: int = 24

    def local(self, at: datetime) -> datetime:
        """An instant on the shop's own clock."""
        return at.astimezone(ZoneInfo(self.zone))

    def hours_on(self, weekday: int) -> tuple[time, time]:
        """When the shop opens and closes on a weekday on which it is open."""
        own = self.day_hours[weekday] if weekday < len(self.day_hours) else ""
        opens, _, closes = (own or f"{self.opens_at}-{self.closes_at}").partition("-")
        return time.fromisoformat(opens), time.fromisoformat(closes)

    def today(self, now: datetime) -> date:
        return self.local(now).date()


def read(store: Store) -> Shop:
    """The shop's choices; what was never chosen has its default."""
    return _chosen(settings.as_kept(store))


@lru_cache(maxsize=16)
def _chosen(held: tuple[tuple[str, str], ...]) -> Shop:
    """Made once of the same texts: every request and every save asks for it."""
    known = {one.name for one in fields(Shop)}
    values = {key: json.loads(text) for key, text in held if key in known}
    chosen: dict[str, Any] = {
        key: tuple(value) if isinstance(value, list) else value for key, value in values.items()
    }
    return Shop(**chosen)


def choose(store: Store, act: Act, seen: int | None = None, **choices: object) -> Written:
    """Keeps some of the shop's choices.

    seen: the stamp of those that were looked at; Conflict when another set has come since.
    """

    def write() -> Written:
        if seen is not None and seen != settings.stamp(store):
            raise Conflict(
                message(
                    "Somebody else changed the shop's choices meanwhile. Look at what is there"
                    " now, then keep yours."
                )
            )
        for key, value in choices.items():
            settings.put(store, key, value)
        return Written(detail={"settings": sorted(choices)})

    return store.once(act, "settings", write)
