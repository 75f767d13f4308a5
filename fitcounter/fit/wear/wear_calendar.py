"""The wearing-in calendar: short wears with whole rests, counted in elapsed hours, moved by what
really happened.

A plan is a log. Each entry of `WearPlan.wears` is one wear on one day; "planned" entries are still
to come, exactly one for each step that is left; all other entries are closed and never change again
except that a wear reported late takes back the "missed" of its own day. Every change gives a new
plan. The rest rule is in `rest.py`. Trade figures here are common practice, no source.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from datetime import date, datetime, timedelta

from fitcounter.errors import BadInput, Conflict, OutOfOrder, message
from fitcounter.fit.handbook.wearing import LATE_AFTER_H, MINUTES_A_DAY, WHOLE_DAY_AFTER_DAYS
from fitcounter.fit.wear.rest import ONE_DAY, clock, in_utc
from fitcounter.fit.wear.schedule import ordinary_from, wears_left
from fitcounter.fit.wear.wear import EXTRA, Wear, WearRules
from fitcounter.fit.wear.wear_plan import Due, WearPlan


def make_plan(
    picked_up: datetime,
    zone: str,
    hour: int,
    minute: int,
    rules: WearRules,
    off_tree_at: datetime | None = None,
) -> WearPlan:
    """The plan of a pair just picked up.

    picked_up, off_tree_at: aware instants; the second is when the boots came off tree and shaper,
    at pickup unless said.
    zone: IANA name. hour 0–23, minute 0–59: the time on the clock. Raises BadInput for a zone or
    time that does not exist.
    """
    clock(zone, hour, minute)
    fetched = in_utc(picked_up)
    off = fetched if off_tree_at is None else in_utc(off_tree_at)
    if off > fetched:
        raise BadInput(
            message("The boots came off the tree before pickup. Type that time."),
            typed=off.isoformat(),
            field="off_tree_at",
        )
    empty = WearPlan(zone, hour, minute, rules, fetched, off, (), date.min, date.min)
    return replanned(empty, ())


def change_hour(plan: WearPlan, hour: int, minute: int, now: datetime) -> WearPlan:
    """The same plan with every wear to come at another time of day, none of them before today.

    Where the rest ends later on that day than the new hour, the next wear waits for the new hour on
    the day after.
    """
    chosen = clock(plan.zone, hour, minute)
    current = roll(plan, now)
    changed = replanned(
        replace(current, hour=hour, minute=minute), current.closed, chosen.day_of(in_utc(now))
    )
    for wear in changed.to_come[:1]:
        if wear.start > chosen.at(wear.local_day):
            return replanned(changed, changed.closed, wear.local_day + ONE_DAY)
    return changed


def record_wear(plan: WearPlan, n: int, started: datetime, minutes: int, now: datetime) -> WearPlan:
    """The plan after a wear that has happened, kept as said, and everything after it moved to keep
    the rest.

    n: the step it was; a step already worn or withdrawn, or `EXTRA`, makes it an extra wear.
    started: aware instant between pickup and now. minutes: 1–1440. The very same record again
    changes nothing. Raises BadInput for values outside, Conflict where it overlaps a wear already
    recorded.
    """
    put_on = in_utc(started)
    _check_record(plan, n, put_on, minutes, in_utc(now))
    already = [wear for wear in plan.wears if wear.state == "worn"]
    if any(wear.actual_start == put_on and wear.actual_minutes == minutes for wear in already):
        return roll(plan, now)
    taken_off = put_on + timedelta(minutes=minutes)
    if any(put_on < wear.ended and wear.began < taken_off for wear in already):
        raise Conflict(
            message("You already saved boots on at that time. Type another time."),
            field="started",
        )
    worn, undone = _worn(plan, n, put_on, minutes)
    kept = [wear for wear in plan.closed if wear not in undone]
    return roll(replanned(plan, (*kept, worn)), now)


def not_today(plan: WearPlan, n: int, now: datetime) -> WearPlan:
    """The plan with wear `n`, if it is today's, put off until tomorrow and everything after it with
    it.

    A wear that is not today's stays: the button pressed twice moves it once. Raises OutOfOrder when
    step n is not to come.
    """
    current = roll(plan, now)
    wear = next((wear for wear in current.to_come if wear.n == n), None)
    if wear is None or current.held_since is not None:
        raise OutOfOrder(
            message("Today’s plan has changed. Load the page again."), typed=str(n), field="n"
        )
    if wear.local_day > plan.clock.day_of(in_utc(now)):
        return current
    return replanned(current, (*current.closed, replace(wear, state="moved")))


def call_off(plan: WearPlan, now: datetime) -> WearPlan:
    """The plan with every wear to come withdrawn: the boots are back in the shop, or do not feel
    right.
    """
    current = roll(replace(plan, held_since=None), plan.held_since or now)
    return replanned(
        current, (*current.closed, *(replace(wear, state="off") for wear in current.to_come))
    )


def roll(plan: WearPlan, now: datetime) -> WearPlan:
    """The plan as it stands at `now`: a wear whose local day is over is missed, and it and all
    after it move by whole days.

    A plan on hold stands still: nothing is missed while nothing may be worn.
    One that is being worn across midnight is no exception; told when it is over, it takes the
    "missed" back. Rolling every day or once after weeks gives the same plan: of days missed in a
    row only the first is kept as an entry.
    """
    today = plan.clock.day_of(min(in_utc(now), plan.held_since or in_utc(now)))
    if not plan.to_come or plan.to_come[0].local_day >= today:
        return plan
    missed = plan.to_come[0]
    before = [wear.state for wear in plan.closed if wear.n == missed.n]
    news = () if before[-1:] == ["missed"] else (replace(missed, state="missed"),)
    return replanned(plan, (*plan.closed, *news), today)


def due(plan: WearPlan, now: datetime) -> Due:
    """What `now` asks for, after rolling the plan; see `Due`."""
    current = roll(plan, now)
    moment = in_utc(now)
    if current.held_since is not None:
        return Due("hold", next(iter(current.to_come), None))
    if current.to_come:
        wear = current.to_come[0]
        return Due("rest", wear, wear.start) if moment < wear.start else Due("wear", wear)
    today = plan.clock.day_of(moment)
    if today > current.first_whole_day or any(wear.state == "off" for wear in current.wears):
        return Due("over")
    if today == current.first_whole_day:
        return Due("whole-day")
    if today >= current.ordinary_from:
        return Due("ordinary")
    return Due("rest", until=plan.clock.start_of(current.ordinary_from))


def _check_record(plan: WearPlan, n: int, put_on: datetime, minutes: int, now: datetime) -> None:
    if not 0 <= n <= len(plan.rules.minutes):
        raise BadInput(
            message("Pick a day between 1 and {count}.", count=len(plan.rules.minutes)),
            typed=str(n),
            field="n",
        )
    if not 1 <= minutes <= MINUTES_A_DAY:
        raise BadInput(
            message(
                "Type the minutes, between 1 and {minutes_a_day}.", minutes_a_day=MINUTES_A_DAY
            ),
            typed=str(minutes),
            field="minutes",
        )
    if put_on > now:
        raise BadInput(
            message("That time has not come yet. Type when you put them on."),
            typed=put_on.isoformat(),
            field="started",
        )
    if put_on < plan.picked_up:
        raise BadInput(
            message("That is before you picked up your boots. Type when you put them on."),
            typed=put_on.isoformat(),
            field="started",
        )


def _worn(plan: WearPlan, n: int, put_on: datetime, minutes: int) -> tuple[Wear, tuple[Wear, ...]]:
    """The log entry of a wear, and the entries it takes back because they said that its step was
    not worn yet on that day.

    A wear that is no step to come is extra, and measured against the length of the step last worn.
    """
    day = plan.clock.day_of(put_on)
    entries = [wear for wear in plan.wears if wear.n == n]
    if any(wear.state == "planned" for wear in entries):
        undone = tuple(
            wear for wear in entries if wear.state != "planned" and day <= wear.local_day
        )
        said = replace(
            (*undone, entries[-1])[0],
            local_day=day,
            state="worn",
            actual_start=put_on,
            actual_minutes=minutes,
        )
        return said, undone
    steps = [wear.n for wear in plan.wears if wear.state == "worn" and wear.began < put_on]
    usual = plan.rules.minutes[max([1, *steps]) - 1]
    return (
        Wear(EXTRA, put_on, put_on + timedelta(minutes=usual), usual, day, "worn", put_on, minutes),
        (),
    )


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
