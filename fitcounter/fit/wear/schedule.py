"""When wears are planned: the steps that are left, in order, each after the rest of all that came
before.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from datetime import date, datetime, timedelta

from fitcounter.fit.handbook.wearing import (
    EXTRA_REST_DAYS,
    HOURS_A_DAY,
    LATE_AFTER_H,
    WHOLE_DAY_AFTER_DAYS,
)
from fitcounter.fit.wear.rest import ONE_DAY, Clock, whole_minute
from fitcounter.fit.wear.wear import EXTRA, Wear, WearRules
from fitcounter.fit.wear.wear_plan import WearPlan


def wears_left(
    clock: Clock, rules: WearRules, picked_up: datetime, log: Sequence[Wear], not_before: date
) -> tuple[Wear, ...]:
    """The steps not yet worn or withdrawn, planned anew.

    picked_up: UTC. log: every closed entry. not_before: local date before which none of them
    starts. A day on which a step was missed or put off is not planned for that step again.
    """
    done = {wear.n for wear in log if wear.state in ("worn", "off")}
    chain = [wear for wear in log if wear.state == "worn"]
    planned: list[Wear] = []
    for n, minutes in enumerate(rules.minutes, start=1):
        if n in done:
            continue
        put_off = [
            wear.local_day + ONE_DAY
            for wear in log
            if wear.n == n and wear.state in ("missed", "moved")
        ]
        first_day = max([not_before, *put_off])
        hers = clock.for_wear(minutes)
        start = _start_after(hers, rules, [*chain, *planned], first_day, minutes)
        start = start or hers.first_start(picked_up, first_day)
        planned.append(
            Wear(n, start, start + timedelta(minutes=minutes), minutes, clock.day_of(start))
        )
    return tuple(planned)


def ordinary_from(clock: Clock, rules: WearRules, wears: Sequence[Wear]) -> date:
    """The first day of ordinary wear: as many days after the last step as the rest has, rounded up
    to whole days.

    wears: closed and planned entries in order of time. A free day between wears is kept here too.
    An extra wear before that day puts it off; one on or after it is ordinary wear already.
    """
    rest_days = max(-(-rules.rest_h // HOURS_A_DAY), 2 if rules.free_day_between else 1)

    def after(wear: Wear) -> date:
        return _last_day(clock, wear) + ONE_DAY * (rest_days + EXTRA_REST_DAYS * wear.too_long)

    day = max(after(wear) for wear in wears if wear.n and wear.state in ("worn", "off", "planned"))
    for wear in wears:
        if wear.n == EXTRA and wear.state == "worn" and wear.local_day < day:
            day = max(day, after(wear))
    return day


def _start_after(
    clock: Clock, rules: WearRules, chain: Sequence[Wear], first_day: date, minutes: int
) -> datetime | None:
    """When the next wear, of so many minutes, may start after every wear of the chain; None where
    there is none.
    """
    if not chain:
        return None
    earliest = max(_rest_over(rules, wear) for wear in chain)
    return clock.next_start(
        earliest, max(first_day, *(_next_day(clock, rules, wear) for wear in chain)), minutes
    )


def _rest_over(rules: WearRules, wear: Wear) -> datetime:
    """The instant at which the rest after this wear is over; never before it is taken off."""
    counted_from = wear.began if rules.rest_from == "start" else wear.ended
    return max(counted_from + timedelta(hours=rules.rest_h), wear.ended)


def _next_day(clock: Clock, rules: WearRules, wear: Wear) -> date:
    """The first local day of the next wear: never the same day again, a free day between where
    wanted, one more if it was too long.
    """
    day = max(
        clock.day_of(whole_minute(_rest_over(rules, wear))), clock.day_of(wear.began) + ONE_DAY
    )
    if rules.free_day_between:
        day = max(day, _last_day(clock, wear) + 2 * ONE_DAY)
    return day + ONE_DAY * EXTRA_REST_DAYS * wear.too_long


def _last_day(clock: Clock, wear: Wear) -> date:
    """The local day on which it comes off; at midnight sharp, the day before."""
    return clock.day_of(wear.ended - timedelta.resolution)


def replanned(plan: WearPlan, closed: Sequence[Wear], not_before: date = date.min) -> WearPlan:
    """The plan with these closed entries and every step that is left planned anew, none before that
    local day.
    """
    log = sorted(closed, key=lambda wear: wear.began)
    first_day = max(not_before, plan.resumes_on or not_before)
    wears = (*log, *wears_left(plan.clock, plan.rules, plan.picked_up, log, first_day))
    ordinary = ordinary_from(plan.clock, plan.rules, wears)
    ordinary = max(ordinary, plan.resumes_on or ordinary)
    return replace(
        plan,
        wears=wears,
        ordinary_from=ordinary,
        first_whole_day=ordinary + ONE_DAY * WHOLE_DAY_AFTER_DAYS,
        notes=_notes(plan, wears, ordinary),
    )


def _notes(plan: WearPlan, wears: Sequence[Wear], ordinary: date) -> tuple[str, ...]:
    """The message ids of what the page or the shop must say about this plan."""
    first = next((wear for wear in wears if wear.state in ("worn", "planned")), None)
    is_late = first is not None and first.began - plan.off_tree_at > timedelta(hours=LATE_AFTER_H)
    too_long = [
        f"too-long:{wear.n}" for wear in wears if wear.too_long and wear.local_day < ordinary
    ]
    return (*(["late-first-wear"] if is_late else []), *too_long)
