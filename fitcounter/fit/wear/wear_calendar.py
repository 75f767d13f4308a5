"""The wearing-in calendar: short wears with whole rests, counted in elapsed hours, moved by what
really happened.

A plan is a log. Each entry of `WearPlan.wears` is one wear on one day; "planned" entries are still
to come, exactly one for each step that is left; all other entries are closed and never change again
except that a wear reported late takes back the "missed" of its own day. Every change gives a new
plan. The rest rule is in `rest.py`. Trade figures here are common practice, no source.
"""

from __future__ import annotations

from dataclasses import replace
from datetime import date, datetime, timedelta

from fitcounter.errors import BadInput, Conflict, OutOfOrder, message
from fitcounter.fit.handbook.wearing import MINUTES_A_DAY
from fitcounter.fit.wear.missed_wears import move_missed
from fitcounter.fit.wear.rest import ONE_DAY, Clock, clock, in_utc
from fitcounter.fit.wear.schedule import replanned
from fitcounter.fit.wear.wear import EXTRA, Wear, WearRules
from fitcounter.fit.wear.wear_plan import Due, WearPlan


def make_plan(
    picked_up: datetime, chosen: Clock, rules: WearRules, off_tree_at: datetime | None = None
) -> WearPlan:
    """The plan of a pair just picked up.

    picked_up, off_tree_at: aware instants; the second is when the boots came off tree and shaper,
    at pickup unless said. chosen: the hour of the wears. Raises BadInput where they came off after
    pickup.
    """
    fetched = in_utc(picked_up)
    off = fetched if off_tree_at is None else in_utc(off_tree_at)
    if off > fetched:
        raise BadInput(
            message("The boots came off the tree before pickup. Type that time."),
            typed=off.isoformat(),
            field="off_tree_at",
        )
    hour = (chosen.zone.key, chosen.hour, chosen.minute)
    empty = WearPlan(*hour, rules, fetched, off, (), date.min, date.min)
    return replanned(empty, ())


def change_hour(plan: WearPlan, hour: int, minute: int, now: datetime) -> WearPlan:
    """The same plan with every wear to come at another time of day, none of them before today.

    Where the rest ends later on that day than the new hour, the next wear waits for the new hour on
    the day after.
    """
    chosen = clock(plan.zone, hour, minute)
    current = move_missed(plan, now)
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
        return move_missed(plan, now)
    taken_off = put_on + timedelta(minutes=minutes)
    if any(put_on < wear.ended and wear.began < taken_off for wear in already):
        raise Conflict(
            message("You already saved boots on at that time. Type another time."),
            field="started",
        )
    as_it_stood = move_missed(plan, put_on)  # days missed before it stay missed
    worn, undone = _worn(as_it_stood, n, put_on, minutes)
    kept = [wear for wear in as_it_stood.closed if wear not in undone]
    return move_missed(replanned(plan, (*kept, worn)), now)


def not_today(plan: WearPlan, n: int, now: datetime) -> WearPlan:
    """The plan with wear `n`, if it is today's, put off until tomorrow and everything after it with
    it.

    A wear that is not today's stays: the button pressed twice moves it once. Raises OutOfOrder when
    step n is not to come.
    """
    current = move_missed(plan, now)
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
    current = move_missed(replace(plan, held_since=None), plan.held_since or now)
    return replanned(
        current, (*current.closed, *(replace(wear, state="off") for wear in current.to_come))
    )


def due(plan: WearPlan, now: datetime) -> Due:
    """What `now` asks for, after missed wears were moved; see `Due`."""
    current = move_missed(plan, now)
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
    said = Wear(EXTRA, put_on, put_on + timedelta(minutes=usual), usual, day, "worn")
    undone = tuple(
        wear
        for wear in entries
        if wear.n == EXTRA and wear.state == "missed" and wear.local_day == day
    )
    return replace(said, actual_start=put_on, actual_minutes=minutes), undone
