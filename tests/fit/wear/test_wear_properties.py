"""Whatever a customer does, in whatever order it is told, no rest is cut and nothing worn is
lost.
"""

from collections import Counter
from datetime import UTC, datetime, timedelta
from itertools import pairwise
from zoneinfo import ZoneInfo

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from fitcounter.errors import Conflict
from fitcounter.fit.wear.missed_wears import move_missed
from fitcounter.fit.wear.rest import clock
from fitcounter.fit.wear.wear import EXTRA, WearRules, preset
from fitcounter.fit.wear.wear_calendar import (
    call_off,
    change_hour,
    due,
    make_plan,
    not_today,
    record_wear,
)

QUIET = settings(derandomize=True, deadline=None, max_examples=120)
ZONES = st.sampled_from(
    [
        "America/New_York",
        "Europe/Madrid",
        "Australia/Lord_Howe",
        "Pacific/Chatham",
        "Africa/Casablanca",
        "Asia/Kolkata",
        "Asia/Beirut",
    ]
)
RULES = st.one_of(
    st.sampled_from([preset("three-short-wears"), preset("growing")]),
    st.builds(
        WearRules,
        minutes=st.lists(st.integers(1, 960), min_size=1, max_size=6).map(tuple),
        rest_h=st.integers(1, 72),
        rest_from=st.sampled_from(["start", "end"]),
        free_day_between=st.booleans(),
    ),
)
# hypothesis adds the zone
FIRST, LAST = (datetime.fromisoformat(day) for day in ("2026-01-01", "2026-12-31"))
MOMENTS = st.datetimes(FIRST, LAST, timezones=st.just(UTC))
STEPS = st.lists(
    st.tuples(
        st.sampled_from(["worn", "worn", "extra", "not today", "look", "hour", "call off"]),
        st.integers(0, 60 * 50),
        st.integers(1, 600),
        st.integers(0, 23),
    ),
    max_size=8,
)


@st.composite
def begun(draw):
    """A new plan."""
    return make_plan(
        draw(MOMENTS),
        clock(draw(ZONES), draw(st.integers(0, 23)), draw(st.integers(0, 59))),
        draw(RULES),
    )


def step(plan, now, what, minutes, hour):
    """One thing a customer or the shop does at that moment."""
    coming = plan.to_come
    if what == "hour":
        return change_hour(plan, hour, 0, now)
    if what == "call off" and minutes < 60:
        return call_off(plan, now)
    if what == "not today" and coming:
        return not_today(plan, coming[0].n, now)
    if what in ("worn", "extra"):
        n = coming[min(minutes % 7 // 6, len(coming) - 1)].n if coming and what == "worn" else EXTRA
        started = max(plan.picked_up, now - timedelta(minutes=minutes + hour * 60))
        try:
            return record_wear(plan, n, started, minutes, now)
        except Conflict:
            return move_missed(plan, now)
    return move_missed(plan, now)


def story(plan, steps):
    """Every plan on the way, with the moment it is from."""
    now = plan.picked_up
    plans = [(plan, now)]
    for what, wait, minutes, hour in steps:
        now += timedelta(minutes=wait)
        plan = step(plan, now, what, minutes, hour)
        plans.append((plan, now))
    return plans


def rest_over(rules, wear):
    """When the rest after a wear is over, said anew from the rule."""
    begins = wear.began if rules.rest_from == "start" else wear.ended
    return begins + timedelta(hours=rules.rest_h)


@given(begun(), STEPS)
@QUIET
def test_no_planned_start_is_nearer_than_the_rest_to_any_wear_before_it(plan, steps):
    """Against every wear, not only the last; and never before a boot is off."""
    for current, _ in story(plan, steps):
        chain = [wear for wear in current.wears if wear.state in ("worn", "planned")]
        for index, wear in enumerate(chain):
            if wear.state == "planned":
                assert all(
                    wear.start >= max(rest_over(current.rules, before), before.ended)
                    for before in chain[:index]
                )


@given(begun(), STEPS)
@QUIET
def test_no_two_planned_wears_share_a_day_and_a_free_day_is_free(plan, steps):
    """Nothing doubles up, neither with a planned wear nor with one that was worn."""
    for current, _ in story(plan, steps):
        zone = ZoneInfo(current.zone)
        chain = [wear for wear in current.wears if wear.state in ("worn", "planned")]
        for before, after in pairwise(chain):
            if after.state == "planned":
                apart = after.start.astimezone(zone).date() - before.began.astimezone(zone).date()
                assert apart.days >= (2 if current.rules.free_day_between else 1) + before.too_long
        assert all(wear.local_day == wear.start.astimezone(zone).date() for wear in current.to_come)
        assert all(not wear.start.astimezone(zone).fold for wear in current.to_come[1:])


@given(begun(), STEPS)
@QUIET
def test_each_step_is_to_come_once_or_done_once(plan, steps):
    """Every step of the rules has exactly one entry that is planned, worn or off; ordinary wear
    comes after the last.
    """
    for current, now in story(plan, steps):
        ends = Counter(
            wear.n for wear in current.wears if wear.n and wear.state in ("planned", "worn", "off")
        )
        assert ends == dict.fromkeys(range(1, len(current.rules.minutes) + 1), 1)
        assert all(
            current.ordinary_from > wear.local_day
            for wear in current.wears
            if wear.n and wear.state in ("planned", "worn")
        )
        assert all(
            wear.local_day >= now.astimezone(ZoneInfo(current.zone)).date()
            for wear in current.to_come
        )


@given(begun(), STEPS)
@QUIET
def test_what_was_worn_stays_as_it_was_said(plan, steps):
    """No later step changes or loses an entry of what was worn."""
    for (before, _), (after, _) in pairwise(story(plan, steps)):
        assert {wear for wear in before.wears if wear.state == "worn"} <= {
            wear for wear in after.wears if wear.state == "worn"
        }


@given(begun(), STEPS, st.integers(0, 60 * 24 * 20), st.integers(0, 60 * 24 * 20))
@QUIET
def test_looking_in_between_changes_nothing(plan, steps, first, second):
    """Rolled in two goes or in one, the plan is the same; rolled twice to the same moment too, and
    what is due does not change it.
    """
    current, now = story(plan, steps)[-1]
    soon, later = now + timedelta(minutes=first), now + timedelta(minutes=first + second)
    once = move_missed(current, later)
    assert move_missed(move_missed(current, soon), later) == once == move_missed(once, later)
    assert due(current, later) == due(once, later)


@given(begun(), STEPS)
@QUIET
def test_the_same_story_gives_the_same_plan(plan, steps):
    """To the last digit."""
    assert repr(story(plan, steps)) == repr(story(plan, steps))


@given(begun())
@QUIET
def test_the_first_wear_is_within_24_hours_of_pickup(plan):
    """At her hour or when the 24 hours are over."""
    first = plan.wears[0]
    assert timedelta() <= first.start - plan.picked_up <= timedelta(hours=24)


@pytest.mark.parametrize("name", ["three-short-wears", "growing"])
@given(
    picked_up=MOMENTS,
    zone=ZONES,
    hour=st.integers(0, 23),
    late=st.lists(st.integers(0, 90), min_size=6, max_size=6),
)
@settings(QUIET, max_examples=60)
def test_a_customer_who_follows_it_gets_through_with_every_rest_kept(
    name, picked_up, zone, hour, late
):
    """Put on when it is due or a little later, worn as long as planned: never a missed wear, no
    note.
    """
    plan = make_plan(picked_up, clock(zone, hour, 0), preset(name))
    for minutes_late in late[: len(plan.rules.minutes)]:
        wear = plan.to_come[0]
        last_minute = datetime.combine(
            wear.local_day + timedelta(days=1), datetime.min.time(), ZoneInfo(zone)
        ) - timedelta(minutes=1)
        started = max(
            wear.start,
            min(wear.start + timedelta(minutes=minutes_late), last_minute.astimezone(UTC)),
        )
        plan = record_wear(
            plan, wear.n, started, wear.minutes, started + timedelta(minutes=wear.minutes)
        )
    assert [wear.state for wear in plan.wears] == ["worn"] * len(plan.rules.minutes)
    assert plan.notes == ()
    for before, after in pairwise(plan.wears):
        assert after.began - before.began >= timedelta(hours=24)


@given(begun(), STEPS)
@QUIET
def test_nobody_is_sent_into_the_night_who_chose_an_hour_by_day(plan, steps):
    """Whatever was worn, moved or put off before, and however long the wears are: up to 15 hours,
    which is all that there is between seven and ten.
    """
    for now_plan, _ in story(plan, steps):
        if not 7 <= now_plan.clock.hour < 22:
            continue
        for wear in now_plan.to_come:
            if wear.minutes > 900 or wear.n == 1:
                continue  # the first one starts within a day of pickup, before everything else
            begins, ends = (one.astimezone(now_plan.clock.zone) for one in (wear.start, wear.ended))
            assert begins.hour >= 7
            assert (ends.date(), ends.hour * 60 + ends.minute) <= (begins.date(), 22 * 60)
