"""What changes a wearing-in calendar beside the wears themselves, and what it asks about."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, datetime
from typing import Literal

from fitcounter.fit.handbook.wearing import ASKED_OVER, ASKED_UNDER, SLIPPED_DAYS
from fitcounter.fit.wear.missed_wears import every_missed_day, move_missed
from fitcounter.fit.wear.rest import clock, in_utc
from fitcounter.fit.wear.schedule import replanned
from fitcounter.fit.wear.wear import EXTRA
from fitcounter.fit.wear.wear_plan import WearPlan

Doubt = Literal["", "long", "short"]


def put_on_hold(plan: WearPlan, now: datetime) -> WearPlan:
    """The plan with nothing to be worn until the shop has answered; a plan on hold stays so.

    What was missed before counts as missed; the days on hold do not.
    """
    if plan.held_since is not None:
        return plan
    return replace(move_missed(plan, now), held_since=in_utc(now), resumes_on=None)


def go_on(plan: WearPlan, first_day: date, now: datetime) -> WearPlan:
    """The plan off its hold, with nothing worn before that local day, nor before today."""
    running = replace(move_missed(plan, now), held_since=None, resumes_on=first_day)
    return replanned(running, running.closed, plan.clock.day_of(in_utc(now)))


def change_zone(plan: WearPlan, zone: str, now: datetime) -> WearPlan:
    """The same plan on the clocks of another zone: the same hour of the day, none before today."""
    chosen = clock(zone, plan.hour, plan.minute)
    current = move_missed(plan, now)
    moved = replace(current, zone=zone)
    return replanned(moved, current.closed, chosen.day_of(in_utc(now)))


def start_again(plan: WearPlan, now: datetime) -> WearPlan:
    """The plan from its first step on; what was worn or missed stays in it as no step."""
    current = move_missed(plan, now)
    log = every_missed_day(current, now)
    kept = [replace(wear, n=EXTRA) for wear in log if wear.state in ("worn", "missed")]
    today = plan.clock.day_of(in_utc(now))
    # what is told later of the days before must not bring the new beginning there
    anew = replace(current, resumes_on=max(today, plan.resumes_on or today))
    return replanned(anew, kept, today)


def has_slipped(plan: WearPlan, now: datetime) -> bool:
    """Whether the next step was first missed or put off a week ago or earlier."""
    current = move_missed(plan, now)
    if not current.to_come or current.held_since is not None:
        return False
    put_off = [wear.local_day for wear in current.closed if wear.n == current.to_come[0].n]
    today = plan.clock.day_of(in_utc(now))
    return bool(put_off) and (today - min(put_off)).days >= SLIPPED_DAYS


def is_doubtful(plan: WearPlan, n: int, minutes: int) -> Doubt:
    """ "long" or "short" where a wear of so many minutes is asked about first, else ""."""
    length = plan.rules.minutes[max(n, 1) - 1] if n <= len(plan.rules.minutes) else minutes
    if minutes > ASKED_OVER * length:
        return "long"
    return "short" if minutes < ASKED_UNDER * length else ""
