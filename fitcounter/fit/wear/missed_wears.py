"""What was missed moves on: the calendar as it stands once days went by without a wear."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from datetime import datetime, timedelta
from itertools import pairwise

from fitcounter.fit.handbook.wearing import MISSED_TOLD_DAYS
from fitcounter.fit.wear.rest import ONE_DAY, in_utc
from fitcounter.fit.wear.schedule import replanned
from fitcounter.fit.wear.wear import Wear
from fitcounter.fit.wear.wear_plan import WearPlan


def move_missed(plan: WearPlan, now: datetime) -> WearPlan:
    """The plan as it stands at `now`: a wear whose local day is over is missed, and it and all
    after it move by whole days.

    A plan on hold stands still: nothing is missed while nothing may be worn.
    One that is being worn across midnight is no exception; told when it is over, it takes the
    "missed" back. Looking every day or once after weeks gives the same plan: of days missed in a
    row only the first is kept as an entry.
    """
    today = plan.clock.day_of(min(in_utc(now), plan.held_since or in_utc(now)))
    if not plan.to_come or plan.to_come[0].local_day >= today:
        return plan
    missed = plan.to_come[0]
    before = [wear.state for wear in plan.closed if wear.n == missed.n]
    news = () if before[-1:] == ["missed"] else (replace(missed, state="missed"),)
    return replanned(plan, (*plan.closed, *news), today)


def every_missed_day(plan: WearPlan, now: datetime) -> tuple[Wear, ...]:
    """The log of a plan rolled on to `now`, with an entry for each day missed in a row after the
    one that is kept, as far back as two weeks; none for a day on which something was worn.

    Days before the one from which the shop let it go on are none: nothing could be worn then.
    """
    worn = {wear.local_day for wear in plan.wears if wear.state == "worn"}
    rests = {day + ONE_DAY for day in worn} if plan.rules.free_day_between else set()
    log = [wear for wear in plan.wears if wear.state != "missed" or wear.local_day not in worn]
    more = (one for one in _days_in_a_row(plan, now) if one.local_day not in worn | rests)
    return tuple(sorted((*log, *more), key=lambda wear: wear.began))


def _days_in_a_row(plan: WearPlan, now: datetime) -> Iterator[Wear]:
    """Of each missed step the days up to its next try; what was worn between for fun is no try."""
    first = plan.clock.day_of(in_utc(now)) - MISSED_TOLD_DAYS * ONE_DAY
    steps = [wear for wear in plan.wears if wear.n or wear.state == "missed"]
    for missed, after in pairwise(steps):
        if missed.state != "missed":
            continue
        hers = plan.clock.for_wear(missed.minutes)
        day = max(missed.local_day + ONE_DAY, first)
        if plan.resumes_on and missed.local_day < plan.resumes_on:
            day = max(day, plan.resumes_on)
        for each in (day + n * ONE_DAY for n in range((after.local_day - day).days)):
            start = hers.at(each)
            end = start + timedelta(minutes=missed.minutes)
            yield replace(missed, start=start, end=end, local_day=each)
