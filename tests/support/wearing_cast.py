"""One customer's wearing-in calendar, told in days of June in Madrid."""

from __future__ import annotations

from datetime import UTC, date, datetime, timedelta, timezone

from fitcounter.fit.wear.rest import clock
from fitcounter.fit.wear.wear import preset
from fitcounter.fit.wear.wear_calendar import make_plan, record_wear
from fitcounter.fit.wear.wear_plan import WearPlan

MADRID = "Europe/Madrid"
THREE = preset("three-short-wears")
GROWING = preset("growing")


def at(day: int, hour: int, minute: int = 0) -> datetime:
    """A moment of June 2026 on a clock in Madrid, two hours ahead of UTC."""
    return datetime(2026, 6, day, hour, minute, tzinfo=timezone(timedelta(hours=2))).astimezone(UTC)


def june(day: int) -> date:
    """A date of June 2026."""
    return date(2026, 6, day)


def days(plan: WearPlan, *states: str) -> list[int]:
    """Days of June of the entries in those states, "planned" unless said."""
    return [wear.local_day.day for wear in plan.wears if wear.state in (states or ("planned",))]


def fetched() -> WearPlan:
    """Fetched on Monday 1 June at ten, worn at six in the evening: the 1st, 2nd and 3rd, ordinary
    wear from the 4th.
    """
    return make_plan(at(1, 10), clock(MADRID, 18, 0), THREE)


def worn(
    plan: WearPlan, n: int, day: int, hour: int = 18, minute: int = 0, minutes: int = 30
) -> WearPlan:
    """The plan after a wear told as soon as it was over."""
    started = at(day, hour, minute)
    return record_wear(plan, n, started, minutes, started + timedelta(minutes=minutes))
