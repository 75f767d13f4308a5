"""The two days a customer is told, counted on the shop's open days: one to hope, one to promise.

Plain counting, without the trees: preparing and finishing a day each (fit.handbook_bench), a hold
in whole days, a day's rest; hands are needed on open days only.
"""

from __future__ import annotations

import math
from datetime import date, timedelta
from typing import NamedTuple

from fitcounter.desk.common.shop_days import ShopDays
from fitcounter.fit.handbook.bench import HOURS_A_DAY

_ONE = timedelta(days=1)


class TwoDays(NamedTuple):
    """hope: if the likely rounds do. promise: if eight in ten do; only this one is printed. None
    where it cannot be told.

    reads: the days on which the rounds are measured again, of the slower boot.
    late: how many other pairs become late by it.
    """

    hope: date | None
    promise: date | None
    reads: tuple[date, ...] = ()
    late: int = 0


def two_days(
    days: ShopDays,
    today: date,
    rounds: tuple[int | None, int | None],
    hold_h: float,
    max_rounds: int,
) -> TwoDays:
    """From the rounds of the slower side: likely, and within which eight in ten are done.

    A forecast beyond the agreed rounds is dated by the agreed ones.
    """
    likely, eight_in_ten = rounds
    if likely is None and eight_in_ten is None:
        return TwoDays(
            None,
            ready_day(days, today, max_rounds, hold_h),
            read_days(days, today, max_rounds, hold_h),
        )
    hope = min(likely if likely is not None else max_rounds, max_rounds)
    promise = max(hope, min(eight_in_ten if eight_in_ten is not None else max_rounds, max_rounds))
    reads = read_days(days, today, promise, hold_h)
    return TwoDays(
        ready_day(days, today, hope, hold_h), ready_day(days, today, promise, hold_h), reads
    )


def ready_day(days: ShopDays, today: date, rounds: int, hold_h: float) -> date:
    """The open day on which a pair is finished after so many rounds, begun on the next open day."""
    reads = read_days(days, today, rounds, hold_h)
    return finished(days, reads[-1] if reads else days.next_open(today))


def finished(days: ShopDays, measured: date) -> date:
    """The open day on which boots that were measured for the last time are finished."""
    return days.next_open(measured + _ONE)


def read_days(days: ShopDays, today: date, rounds: int, hold_h: float) -> tuple[date, ...]:
    """The open day on which each round is measured again: a day to prepare, the hold in whole days,
    a day of rest.
    """
    hold = timedelta(days=math.ceil(hold_h / HOURS_A_DAY))
    reads: list[date] = []
    on = days.next_open(days.next_open(today) + _ONE)
    for _ in range(rounds):
        on = days.next_open(days.next_open(on + hold) + _ONE)  # measured, and on for the next
        reads.append(on)
    return tuple(reads)
