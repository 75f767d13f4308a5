"""Income day by day as bars: what came in above the line, what was given back below it. Pixels of a
viewBox.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from datetime import date, timedelta
from typing import NamedTuple

from fitcounter.desk.book import income_by_day
from fitcounter.desk.common import money
from fitcounter.desk.common.translation import say, spoken
from fitcounter.desk.shop import Shop
from fitcounter.store import month_figures
from fitcounter.store.database import Store, utc_time
from fitcounter.store.month_figures import FigureSpan

MOST_DAYS = 31
WIDTH, TOP, TALL, FOOT = 640, 24, 150, 22


class DayBar(NamedTuple):
    """One day. y, height: of what came in; below: of what was given back, from the line down."""

    x: float
    y: float
    height: float
    below: float


class IncomeBars(NamedTuple):
    """line: where nought is. best: the words over the highest bar and its middle. weeks: the first
    days of weeks with their places. words: what the picture says.
    """

    days: tuple[DayBar, ...]
    bar: float
    width: int
    height: float
    line: float
    best: tuple[str, float, float]
    weeks: tuple[tuple[str, float], ...]
    words: str


def of_days(store: Store, shop: Shop, first: date, last: date) -> IncomeBars | None:
    """None for more days than a month has, or where nothing was paid."""
    if (last - first).days >= MOST_DAYS:
        return None
    asked = FigureSpan(*income_by_day.span(shop, first, last), shop.currency)
    came, gone = _by_day(store, shop, "payments", asked), _by_day(store, shop, "refunds", asked)
    every = [first + timedelta(days=n) for n in range((last - first).days + 1)]
    return _drawn(shop, every, came, gone) if max(came.values(), default=0) > 0 else None


def _drawn(
    shop: Shop, every: Sequence[date], came: Counter[date], gone: Counter[date]
) -> IncomeBars:
    step, scale, line = WIDTH / len(every), TALL / max(came.values()), float(TOP + TALL)
    bars = tuple(
        DayBar(
            round((n + 0.14) * step, 1),
            round(line - came[day] * scale, 1),
            round(came[day] * scale, 1),
            round(-gone[day] * scale, 1),
        )
        for n, day in enumerate(every)
    )
    best = max(every, key=lambda day: came[day])
    amount = money.say(came[best], shop.currency)
    place = min(max((every.index(best) + 0.5) * step, 40.0), WIDTH - 40.0)
    weeks = tuple(
        (str(day.day), round(n * step, 1))
        for n, day in enumerate(every)
        if day.weekday() == 0 or (n == 0 and 0 < day.weekday() < 5)
    )
    words = say(
        "Income day by day. The best day was {day}, with {amount}.",
        day=spoken().day(best),
        amount=amount,
    )
    foot = line + max(bar.below for bar in bars) + FOOT
    top = (amount, round(place, 1), line - TALL - 6)
    return IncomeBars(bars, round(step * 0.72, 1), WIDTH, foot, line, top, weeks, words)


def _by_day(store: Store, shop: Shop, name: str, asked: FigureSpan) -> Counter[date]:
    sums: Counter[date] = Counter()
    for _, at, amount in month_figures.instants(store, name, asked):
        sums[shop.today(utc_time(at))] += amount
    return sums
