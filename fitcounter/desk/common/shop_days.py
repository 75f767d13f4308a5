"""The days on which the shop is open: its weekdays less its closings.

Nothing is due, called about or promised on another day; what falls there moves to the next opening.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, datetime, time, timedelta

from fitcounter.desk.shop import Shop
from fitcounter.store import plans
from fitcounter.store.bench_records import Closure
from fitcounter.store.database import Store

_LONGEST_CLOSED_DAYS = 400
_ONE = timedelta(days=1)


@dataclass(frozen=True, slots=True)
class ShopDays:
    """weekdays: open ones, 0 = Monday. closed: spans (first day, last day), both included. opens,
    closes: the shop's own hours.
    """

    weekdays: frozenset[int]
    closed: tuple[tuple[date, date], ...] = ()
    opens: time = time(9)
    closes: time = time(18)

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
        if self.is_open(at.date()) and self.opens <= at.time() < self.closes:
            return at
        later = at.time() >= self.opens
        day = self.next_open(at.date() + _ONE if later else at.date())
        return datetime.combine(day, self.opens, at.tzinfo)


def closings_ahead(store: Store, today: date) -> list[Closure]:
    """Holidays and other days on which the whole shop is shut, today's on."""
    day = today.isoformat()
    return [one for one in plans.closures(store) if one.kind == "closed" and one.to_day >= day]


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
        time.fromisoformat(shop.opens_at),
        time.fromisoformat(shop.closes_at),
    )
