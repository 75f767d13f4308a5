"""Income by day, week and month, each figure with the payments it is made of; and what was given
back, put right or taken off a price, by person.
"""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date, datetime, time, timedelta
from typing import NamedTuple
from zoneinfo import ZoneInfo

from babel.dates import format_skeleton

from fitcounter.desk.common.translation import marked, say, spoken
from fitcounter.desk.shop import Shop
from fitcounter.errors import BadInput
from fitcounter.store import income, staff
from fitcounter.store.database import Store, utc_text
from fitcounter.store.income import CheaperRow, PaidRow, PeriodSums

BY = {"day": marked("By day"), "week": marked("By week"), "month": marked("By month")}
HOW_MANY = {"day": 31, "week": 13, "month": 12}
WATCHED_DAYS = 90
MOST_PAYMENTS = 500


class Period(NamedTuple):
    """Local days, both in it. words: as it is called."""

    first: date
    last: date
    words: str
    sums: PeriodSums

    @property
    def income_minor(self) -> int:
        return self.sums.in_minor + self.sums.out_minor


class IncomePage(NamedTuple):
    """periods: newest first. payments: of the days that were asked for, None where none were."""

    by: str
    periods: tuple[Period, ...]
    chosen: Period | None
    payments: tuple[PaidRow, ...]
    given_back: tuple[PaidRow, ...]
    made_cheaper: tuple[CheaperRow, ...]
    people: dict[int, str]


def look(
    store: Store, shop: Shop, now: datetime, by: str, days: tuple[date, date] | None
) -> IncomePage:
    """by: a word of BY. days: whose payments are listed. Raises BadInput."""
    if by not in BY:
        raise BadInput(say("Pick by day, by week or by month."), typed=by, field="by")
    if days and not timedelta() <= days[1] - days[0] <= timedelta(days=366):
        raise BadInput(say("Pick a first and a last day within one year."), field="first")
    today = shop.today(now)
    watched = span(shop, today - timedelta(days=WATCHED_DAYS), today)
    spans = list(_periods(by, today))
    asked = [*spans, *([days] if days else [])]
    sums = income.sums(store, shop.currency, [span(shop, *one) for one in asked])
    paid = income.payments(store, *span(shop, *days), MOST_PAYMENTS) if days else []
    return IncomePage(
        by,
        tuple(
            Period(first, last, _called(by, first, last), found)
            for (first, last), found in zip(spans, sums, strict=False)
        ),
        Period(*days, _days(*days), sums[-1]) if days else None,
        tuple(paid),
        tuple(income.given_back(store, *watched)),
        tuple(income.made_cheaper(store, *watched)),
        {one.id: one.initials for one in staff.with_former(store)},
    )


def span(shop: Shop, first: date, last: date) -> tuple[str, str]:
    """The instants of local days, from the first midnight to before the one after the last."""
    zone = ZoneInfo(shop.zone)
    begins, ends = first, last + timedelta(days=1)
    return (
        utc_text(datetime.combine(begins, time(), zone)),
        utc_text(datetime.combine(ends, time(), zone)),
    )


def month_of(day: date) -> tuple[date, date]:
    """Its first and its last day."""
    first = day.replace(day=1)
    return first, (first + timedelta(days=31)).replace(day=1) - timedelta(days=1)


def is_month(first: date, last: date) -> bool:
    """Whether these days are a whole month."""
    return (first, last) == month_of(first)


def span_words(first: date, last: date, today: date) -> str:
    """ "March 2026" for a month that is over or runs until today; else the days with their year."""
    words = spoken()
    if first.day == 1 and last in (month_of(first)[1], today) and last <= month_of(first)[1]:
        return str(format_skeleton("yMMMM", first, locale=words.locale))
    begin, end = words.day_of_year(first), words.day_of_year(last)
    return begin if first == last else say("{first} to {last}", first=begin, last=end)


def _periods(by: str, today: date) -> Iterator[tuple[date, date]]:
    """The newest first; the one that is running ends today."""
    last = today
    for _ in range(HOW_MANY[by]):
        if by == "day":
            first = last
        elif by == "week":
            first = last - timedelta(days=last.weekday())
        else:
            first = last.replace(day=1)
        yield first, last
        last = first - timedelta(days=1)


def _called(by: str, first: date, last: date) -> str:
    words = spoken()
    if by == "day":
        return words.day(first)
    if by == "month":
        return str(format_skeleton("yMMMM", first, locale=words.locale))
    return _days(first, last)


def _days(first: date, last: date) -> str:
    words = spoken()
    if first == last:
        return words.day(first)
    return say("{first} to {last}", first=words.day(first), last=words.day(last))
