"""The list behind each of the owner's figures: a row a payment, a line or a ticket."""

from __future__ import annotations

from datetime import date, datetime
from typing import NamedTuple

from fitcounter.desk.book import income_by_day
from fitcounter.desk.book.month_figure_words import DAYS, MONEY, NOW, TITLES, group_words
from fitcounter.desk.book.month_figures import DAY_S, asked_of, in_time, until
from fitcounter.desk.common import money
from fitcounter.desk.common.translation import say, say_n, spoken
from fitcounter.desk.shop import Shop
from fitcounter.errors import NotFound
from fitcounter.store import month_figures
from fitcounter.store.database import Store
from fitcounter.store.month_figures import FigureRow

MOST_ROWS = 500
_OF_READY = ("promised", "kept", "late")


class RowsBehind(NamedTuple):
    """title: what the figure counts; words: of which days; rows: oldest first, at most MOST_ROWS,
    each with what it adds in words; number, amount: of all. total: in words.
    """

    title: str
    words: str
    rows: tuple[tuple[FigureRow, str], ...]
    number: int
    amount: int
    total: str


def behind(
    store: Store,
    shop: Shop,
    now: datetime,
    name: str,
    days: tuple[date, date],
    of: str | None = None,
) -> RowsBehind:
    """name: of TITLES. of: only one group. Raises NotFound for another figure."""
    if name not in TITLES:
        raise NotFound(say("The book has no such figure."))
    asked = asked_of(shop, *days)
    if name == "trees":
        asked = until(asked, now)
    if name in _OF_READY:
        held = [
            row
            for row in month_figures.rows(store, "ready", asked)
            if row.grp and (name == "promised" or (name == "kept") == _kept(shop, row))
        ]
        number, amount = len(held), sum(row.amount for row in held)
    else:
        held = month_figures.rows(store, name, asked, of, MOST_ROWS)
        sums = [one for one in month_figures.sums(store, name, asked) if of in (None, one.grp)]
        number, amount = sum(one.number for one in sums), sum(one.amount for one in sums)
    title = say(TITLES[name])
    if of is not None:
        title = say("{what}: {part}", what=title, part=group_words(name, of))
    return RowsBehind(
        title,
        say("Now") if name in NOW else income_by_day.span_words(*days, shop.today(now)),
        tuple((row, _says(shop, name, row.amount)) for row in held[:MOST_ROWS]),
        number,
        amount,
        _total(shop, name, number, amount),
    )


def _kept(shop: Shop, row: FigureRow) -> bool:
    return in_time(shop, row.grp, row.at)


def _says(shop: Shop, name: str, amount: int) -> str:
    """What one row adds to the figure, in words."""
    if name in MONEY:
        return money.say(amount, shop.currency)
    if name in DAYS:
        return spoken().days(amount / DAY_S)
    return ""


def _total(shop: Shop, name: str, number: int, amount: int) -> str:
    if name in MONEY:
        return money.say(amount, shop.currency)
    if name == "trees":
        return spoken().days(amount / DAY_S)
    if name in ("ready", "home") and number:
        return say("{days} on average", days=spoken().days(amount / number / DAY_S))
    return say_n("{count} ticket", "{count} tickets", number)
