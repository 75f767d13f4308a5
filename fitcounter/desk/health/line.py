"""One line of the health page, and how a moment is written in it."""

from __future__ import annotations

from typing import NamedTuple

from babel.dates import format_date

from fitcounter.desk.common.translation import say, spoken
from fitcounter.desk.shop import Shop
from fitcounter.store.database import utc_time


class HealthLine(NamedTuple):
    """One line: what, how it stands in words, and, where somebody has to do something, what.

    details: what is shown behind a tap.
    """

    what: str
    words: str
    todo: str = ""
    details: str = ""

    @property
    def good(self) -> bool:
        return not self.todo


def moment(shop: Shop, at: str) -> str:
    """Mar 17, 2026, 7:00 PM, as the language spoken now writes it."""
    local = shop.local(utc_time(at))
    day = format_date(local.date(), "medium", locale=spoken().locale)
    return say("{day}, {hour}", day=day, hour=spoken().clock(local))
