"""The days on which the shop is open: its weekdays less its closings.

Nothing is due, called about or promised on another day; what falls there moves to the next opening.
"""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date, datetime, time, timedelta
from typing import NamedTuple

from fitcounter.desk.shop import Shop
from fitcounter.store import plans
from fitcounter.store.bench_records import Closure
from fitcounter.store.database import Store

_LONGEST_CLOSED_DAYS = 400
_ONE = timedelta(days=1)


class ShopDays(NamedTuple):
    """weekdays: open ones, 0 = Monday. closed: spans (first day, last day), both included.

    hours: of each weekday when the shop opens and closes.
    """

    weekdays: frozenset[int]
    closed: tuple[tuple[date, date], ...] = ()
    hours: tuple[tuple[time, time], ...] = ((time(9), time(18)),) * 7

    def is_open(self, day: date) -> bool:
        """Whether somebody is at the counter that day."""
        return day.weekday() in self.weekdays and not any(
            first <= day <= last for first, last in self.closed
        )

    def next_open(self, day: date) -> date:
        """The first open day from this day on; the day itself where none is in sight."""
        ahead = (day + timedelta(days=n) for n in range(_LONGEST_CLOSED_DAYS))
        return next((one for one in ahead if self.is_open(one)), day)

    def next_opening(self, at: datetime) -> datetime:
        """This instant where the shop is open then, else when it opens next. at: on the shop's own
        clock.
        """
        opens, closes = self.hours_on(at.date())
        if self.is_open(at.date()) and opens <= at.time() < closes:
            return at
        day = self.next_open(at.date() + _ONE if at.time() >= opens else at.date())
        return datetime.combine(day, self.hours_on(day)[0], at.tzinfo)

    def hours_on(self, day: date) -> tuple[time, time]:
        """When the shop opens and closes on an open day."""
        return self.hours[day.weekday()]


def closings_ahead(store: Store, today: date) -> list[Closure]:
    """Holidays and other days on which the whole shop is shut, today's on."""
    return [one for one in everything_ahead(store, today) if one.kind == "closed"]


def everything_ahead(store: Store, today: date) -> list[Closure]:
    """Closings and days with nobody at the bench, today's on."""
    return [one for one in plans.closures(store) if one.to_day >= today.isoformat()]


def of_shop(store: Store, shop: Shop) -> ShopDays:
    """The shop's weekdays and hours as the owner set them, less its closings.

    Days with nobody at the bench alone are the bench's own: `of_bench`.
    """
    return _days(shop, [one for one in plans.closures(store) if one.kind == "closed"])


def of_bench(store: Store, shop: Shop) -> ShopDays:
    """The same less the days with nobody at the bench."""
    return _days(shop, plans.closures(store))


def _days(shop: Shop, closings: Sequence[Closure]) -> ShopDays:
    return ShopDays(
        frozenset(shop.open_days),
        tuple(
            (date.fromisoformat(one.from_day), date.fromisoformat(one.to_day)) for one in closings
        ),
        tuple(shop.hours_on(weekday) for weekday in range(7)),
    )
