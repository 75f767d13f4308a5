"""What was missed moves on: the calendar as it stands once days went by without a wear."""

from __future__ import annotations

from dataclasses import replace
from datetime import datetime

from fitcounter.fit.wear.rest import in_utc
from fitcounter.fit.wear.schedule import replanned
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
