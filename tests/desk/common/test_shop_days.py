"""The shop is open on its weekdays less its closings, and what falls outside moves to the next
opening.
"""

from __future__ import annotations

from datetime import date, datetime, time
from zoneinfo import ZoneInfo

import pytest
from support.cast import Clock

from fitcounter.desk import shop
from fitcounter.desk.common import shop_days
from fitcounter.desk.common.shop_days import ShopDays
from fitcounter.desk.plan import plan_changes
from fitcounter.store.database import Act, Store

TUESDAY = date(2026, 3, 17)
USUAL, SHORT = (time(9), time(18)), (time(10), time(13))
DAYS = ShopDays(
    frozenset({1, 2, 3, 4, 5}),
    ((date(2026, 3, 24), date(2026, 3, 26)),),
    (USUAL, USUAL, USUAL, USUAL, USUAL, SHORT, USUAL),
)


def at(*fields: int) -> datetime:
    """An instant on the shop's own clock."""
    year, month, day, *rest = fields
    return datetime(year, month, day, *rest, tzinfo=ZoneInfo("America/New_York"))


@pytest.mark.parametrize(
    ("day", "opens"),
    [
        (TUESDAY, TUESDAY),
        (date(2026, 3, 15), TUESDAY),  # Sunday, and Monday is closed
        (date(2026, 3, 22), date(2026, 3, 27)),  # Sunday, Monday, then three days of holiday
    ],
)
def test_the_next_open_day_skips_closed_weekdays_and_holidays(day: date, opens: date):
    assert DAYS.next_open(day) == opens


@pytest.mark.parametrize(
    ("instant", "opening"),
    [
        (at(2026, 3, 17, 10), at(2026, 3, 17, 10)),
        (at(2026, 3, 17, 8, 59), at(2026, 3, 17, 9)),
        (at(2026, 3, 17, 18), at(2026, 3, 18, 9)),
        (at(2026, 3, 21, 20, 26), at(2026, 3, 27, 9)),
        (at(2026, 3, 25, 12), at(2026, 3, 27, 9)),
        (at(2026, 3, 21, 9, 30), at(2026, 3, 21, 10)),
        (at(2026, 3, 21, 12, 59), at(2026, 3, 21, 12, 59)),
        (at(2026, 3, 21, 13), at(2026, 3, 27, 9)),
        (at(2026, 3, 20, 18), at(2026, 3, 21, 10)),
    ],
)
def test_an_hour_outside_the_shop_s_hours_moves_to_the_next_opening(
    instant: datetime, opening: datetime
):
    assert DAYS.next_opening(instant) == opening


def test_a_shop_that_never_opens_gives_the_day_itself():
    assert ShopDays(frozenset()).next_open(TUESDAY) == TUESDAY


@pytest.mark.parametrize("whole_shop", [True, False])
def test_the_whole_shop_is_closed_only_where_that_was_said(
    store: Store, clock: Clock, whole_shop: bool
):
    first, last = date(2026, 3, 24), date(2026, 3, 26)
    plan_changes.away(
        store,
        Act(clock.now),
        shop.read(store),
        first,
        last,
        "Easter",
        False,
        shop_closed=whole_shop,
    )
    assert shop_days.of_shop(store, shop.read(store)).is_open(first) is not whole_shop
    ahead = shop_days.closings_ahead(store, TUESDAY)
    assert [one.why for one in ahead] == (["Easter"] if whole_shop else [])
