"""The owner's figures of some days: income, what was billed by work and by leather, what is held
and owed, jobs, days, promises and trees. Each is the sum of the rows that it leads to.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date, datetime, timedelta
from typing import NamedTuple

from fitcounter.desk.book import income_by_day, income_by_day_bars
from fitcounter.desk.book.month_figure_words import group_words
from fitcounter.desk.common.translation import spoken
from fitcounter.desk.shop import Shop
from fitcounter.store import month_figures, trees
from fitcounter.store.database import Store, utc_text, utc_time
from fitcounter.store.month_figures import FigureSpan, GroupSum

DAY_S = 86400
# Trees are asked until now, and what was ready is told by the shop's own days.
_AT_ONCE = tuple(name for name in month_figures.SOURCES if name not in ("trees", "ready"))


class OwnerFigure(NamedTuple):
    """What some rows come to: minor units, seconds, or their number again. of: their group, None
    for all; words: what the group is called.
    """

    name: str
    number: int
    amount: int
    of: str | None = None
    words: str = ""

    @property
    def mean_days(self) -> float:
        """Of seconds: days on average."""
        return self.amount / self.number / DAY_S if self.number else 0.0

    @property
    def mean_words(self) -> str:
        return spoken().days(self.mean_days)


@dataclass(frozen=True, slots=True, kw_only=True)
class FiguresPage:
    """first, last: local days, both in it. one: figures by name, for all groups together.

    work, leather: of what was billed, before tax where it comes on top. tax_on_top_minor: of the
    tax, what is not in the prices. before, after: the months, None where there is none to show.
    more_minor: income beyond that of the whole month before, None where the days are no month.
    stretching: of the work before discounts; trees_busy: of the time of all trees: shares, 1 is
    all, None where there is nothing to share.
    """

    first: date
    last: date
    words: str
    one: dict[str, OwnerFigure]
    work: tuple[OwnerFigure, ...]
    leather: tuple[OwnerFigure, ...]
    tax_on_top_minor: int
    kept: int
    promised: int
    trees_busy: float | None
    bars: income_by_day_bars.IncomeBars | None
    before: tuple[date, date]
    after: tuple[date, date] | None
    more_minor: int | None

    @property
    def income_minor(self) -> int:
        return self.one["payments"].amount + self.one["refunds"].amount

    @property
    def billed_minor(self) -> int:
        """With the tax that comes on top."""
        return self.one["work"].amount + self.tax_on_top_minor

    @property
    def stretching(self) -> float | None:
        listed = sum(max(0, one.amount) for one in self.work)
        part = sum(one.amount for one in self.work if one.of == "stretching")
        return part / listed if part > 0 else None


def look(store: Store, shop: Shop, now: datetime, first: date, last: date) -> FiguresPage:
    """first, last: local days, both in it."""
    asked = asked_of(shop, first, last)
    groups = {name: month_figures.sums(store, name, asked) for name in _AT_ONCE}
    groups["trees"] = month_figures.sums(store, "trees", until(asked, now))
    ready = month_figures.instants(store, "ready", asked)
    told = [in_time(shop, day, at) for day, at, _ in ready if day]
    month = income_by_day.is_month(first, last)
    return FiguresPage(
        first=first,
        last=last,
        words=income_by_day.span_words(first, last, shop.today(now)),
        one={
            **{name: _of_all(name, found) for name, found in groups.items()},
            "ready": OwnerFigure("ready", len(ready), sum(amount for _, _, amount in ready)),
        },
        work=_parts("work", groups["work"]),
        leather=_parts("leather", groups["leather"]),
        tax_on_top_minor=sum(one.amount for one in groups["tax"] if one.grp == "on top"),
        kept=sum(told),
        promised=len(told),
        trees_busy=_busy(store, until(asked, now), groups["trees"]),
        bars=income_by_day_bars.of_days(store, shop, first, last),
        before=income_by_day.month_of(first - timedelta(days=1)),
        after=_after(first, shop.today(now)),
        more_minor=_more(store, shop, asked, first) if month else None,
    )


def asked_of(shop: Shop, first: date, last: date) -> FigureSpan:
    return FigureSpan(*income_by_day.span(shop, first, last), shop.currency)


def until(asked: FigureSpan, now: datetime) -> FigureSpan:
    """The same days, as far as they are over: a boot that is on a tree is on it until now."""
    return FigureSpan(asked.first, max(asked.first, min(asked.last, utc_text(now))), asked.currency)


def in_time(shop: Shop, promised: str, ready: str) -> bool:
    """promised: ISO day; ready: UTC text. The shop's clock is asked only near midnight's day."""
    day = date.fromisoformat(promised)
    utc_day = date.fromisoformat(ready[:10])
    if abs((utc_day - day).days) > 1:
        return utc_day < day
    return shop.today(utc_time(ready)) <= day


def _of_all(name: str, groups: Iterable[GroupSum]) -> OwnerFigure:
    held = list(groups)
    return OwnerFigure(name, sum(one.number for one in held), sum(one.amount for one in held))


def _parts(name: str, groups: Iterable[GroupSum]) -> tuple[OwnerFigure, ...]:
    return tuple(
        OwnerFigure(name, one.number, one.amount, one.grp, group_words(name, one.grp))
        for one in groups
    )


def _busy(store: Store, asked: FigureSpan, used: Iterable[GroupSum]) -> float | None:
    """Of all the time of all trees that are not retired."""
    number = sum(one.state != "retired" for one in trees.everyone(store))
    held = (utc_time(asked.last) - utc_time(asked.first)).total_seconds() * number
    return sum(one.amount for one in used) / held if held else None


def _after(first: date, today: date) -> tuple[date, date] | None:
    begins = income_by_day.month_of(first)[1] + timedelta(days=1)
    return (begins, min(income_by_day.month_of(begins)[1], today)) if begins <= today else None


def _more(store: Store, shop: Shop, asked: FigureSpan, first: date) -> int:
    """Income beyond that of the month before."""
    earlier = asked_of(shop, *income_by_day.month_of(first - timedelta(days=1)))
    now, then = (
        sum(
            group.amount
            for name in ("payments", "refunds")
            for group in month_figures.sums(store, name, span)
        )
        for span in (asked, earlier)
    )
    return now - then
