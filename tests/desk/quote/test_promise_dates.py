"""The two days a customer is told."""

from __future__ import annotations

from datetime import date

from fitcounter.desk import shop
from fitcounter.desk.common.shop_days import ShopDays
from fitcounter.desk.quote.promise_dates import read_days, ready_day, two_days

TODAY = date(2026, 3, 17)  # a Tuesday; the shop is open Tuesday to Saturday


DAYS = ShopDays(frozenset(shop.Shop().open_days))


def test_days_count_hands_on_open_days_only():
    # Tuesday prepared, Wednesday on, seven days on the tree, Wednesday off, Thursday read, Friday
    # finished
    assert read_days(DAYS, TODAY, 1, 168) == (date(2026, 3, 26),)
    assert ready_day(DAYS, TODAY, 1, 168) == date(2026, 3, 27)
    assert ready_day(DAYS, TODAY, 0, 168) == date(2026, 3, 18)
    # on a Saturday evening it begins on Tuesday
    assert ready_day(DAYS, date(2026, 3, 22), 0, 168) == date(2026, 3, 25)
    # a hold that ends on Sunday comes off on Tuesday
    assert ready_day(DAYS, TODAY, 1, 96) == date(2026, 3, 26)


def test_promise_is_never_before_hope_and_never_beyond_the_agreed_goes():
    days = two_days(DAYS, TODAY, (2, 3), 168, 4)
    assert days.hope == ready_day(DAYS, TODAY, 2, 168)
    assert days.promise == ready_day(DAYS, TODAY, 3, 168)
    assert two_days(DAYS, TODAY, (3, None), 168, 4).promise == ready_day(DAYS, TODAY, 4, 168)
    assert two_days(DAYS, TODAY, (None, None), 168, 4).hope is None
