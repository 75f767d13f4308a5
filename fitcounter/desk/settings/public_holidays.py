"""Public holidays of the shop's country, offered to be closed on; none is assumed, and none closes
the shop before the owner ticks it.
"""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date, timedelta
from typing import NamedTuple

from fitcounter.desk.common import shop_days
from fitcounter.desk.common.translation import say, spoken
from fitcounter.desk.plan import plan_changes
from fitcounter.desk.shop import Shop
from fitcounter.errors import BadInput
from fitcounter.papers import public_holidays
from fitcounter.store.database import Act, Store, Written

AHEAD_DAYS = 366


class Holiday(NamedTuple):
    """A public holiday on a day on which the shop would be open. lang: of its name, "" unknown."""

    day: date
    name: str
    lang: str


def offered(store: Store, shop: Shop, today: date) -> list[Holiday]:
    """Those of the next twelve months, from today on. Raises Unavailable."""
    days, last = shop_days.of_shop(store, shop), today + timedelta(days=AHEAD_DAYS)
    years = tuple(range(today.year, last.year + 1))
    return [
        Holiday(day, name, lang)
        for day, name, lang in public_holidays.days_of(shop.country, years, spoken().code)
        if today <= day < last and days.is_open(day)
    ]


def close(store: Store, act: Act, shop: Shop, ticked: Sequence[str], confirmed: bool) -> Written:
    """Closes the shop on the holidays that were ticked (ISO days), each under its name.

    Raises BadInput where none is ticked; at `confirmed` while a promised day would move;
    Unavailable.
    """
    wanted = set(ticked)
    chosen = [
        one for one in offered(store, shop, shop.today(act.at)) if one.day.isoformat() in wanted
    ]
    if not chosen:
        raise BadInput(say("Tick at least one holiday."), field="day")
    days = [(one.day, one.name) for one in chosen]
    return plan_changes.close_each(store, act, shop, days, confirmed)
