"""A plan has every wear at her hour, with its rest, and refuses what cannot be."""

from dataclasses import FrozenInstanceError, replace
from datetime import datetime, timedelta

import pytest
from support.wearing_cast import GROWING, MADRID, THREE, at, days, fetched, june, worn

from fitcounter.errors import BadInput
from fitcounter.fit.wear.missed_wears import move_missed
from fitcounter.fit.wear.rest import clock
from fitcounter.fit.wear.wear import WearRules, preset
from fitcounter.fit.wear.wear_calendar import (
    change_hour,
    due,
    make_plan,
    not_today,
    record_wear,
)


@pytest.fixture
def plan():
    """Three short wears, fetched on 1 June."""
    return fetched()


def test_three_short_wears_are_half_an_hour_on_three_days_and_ordinary_wear_begins_on_day_four(
    plan,
):
    """At her hour, the first within 24 hours, an outing on day four, a whole day on day five."""
    assert [
        (wear.n, wear.start, wear.end, wear.minutes, wear.local_day, wear.state)
        for wear in plan.wears
    ] == [(n, at(n, 18), at(n, 18, 30), 30, june(n), "planned") for n in (1, 2, 3)]
    assert (plan.ordinary_from, plan.first_whole_day) == (june(4), june(5))
    assert (plan.notes, plan.follow_up, plan.off_tree_at) == ((), False, at(1, 10))


def test_growing_wears_have_a_day_without_between_any_two():
    """30 min, 30 min, 1, 2, 4 and 8 h, every other day; ordinary wear after one more day
    without.
    """
    plan = make_plan(at(1, 10), clock(MADRID, 9, 0), GROWING)
    assert [wear.minutes for wear in plan.wears] == [30, 30, 60, 120, 240, 480]
    assert days(plan) == [2, 4, 6, 8, 10, 12]
    assert (plan.ordinary_from, plan.first_whole_day) == (june(14), june(15))


@pytest.mark.parametrize(
    ("hour", "minute", "first"), [(18, 0, at(1, 18)), (9, 59, at(2, 9, 59)), (10, 0, at(1, 10))]
)
def test_the_first_wear_is_the_next_time_her_hour_comes_round(hour, minute, first):
    """Later the same day, the next morning, or at once when she is fetched right at her hour."""
    plan = make_plan(at(1, 10), clock(MADRID, hour, minute), THREE)
    assert plan.wears[0].start == first


def test_the_strict_form_rests_from_taking_off():
    """Each start slips by the length of the wear before: 18:00, 18:30, 19:00."""
    plan = make_plan(at(1, 10), clock(MADRID, 18, 0), replace(THREE, rest_from="end"))
    assert [wear.start for wear in plan.wears] == [at(1, 18), at(2, 18, 30), at(3, 19)]


def test_a_longer_rest_sets_the_days_of_wear_and_of_ordinary_wear():
    """36 hours of rest are two days to the next wear at her hour, and two whole days before
    ordinary wear.
    """
    plan = make_plan(at(1, 10), clock(MADRID, 18, 0), WearRules((30, 30), rest_h=36))
    assert [wear.start for wear in plan.wears] == [at(1, 18), at(3, 18)]
    assert plan.ordinary_from == june(5)


def test_a_short_rest_never_puts_two_wears_on_one_day():
    """Twelve hours after ten in the morning is the same evening, and still it is the next day."""
    plan = make_plan(at(1, 9), clock(MADRID, 10, 0), WearRules((30, 30), rest_h=6))
    assert days(plan) == [1, 2]


def test_a_rest_shorter_than_the_wear_starts_when_it_is_over():
    """A wear of 16 hours from ten in the evening with one hour of rest from putting on: not while
    they are on.
    """
    plan = make_plan(at(1, 9), clock(MADRID, 22, 0), WearRules((960, 30), rest_h=1))
    assert plan.wears[1].start == at(2, 22)
    early = make_plan(at(1, 9), clock(MADRID, 12, 0), WearRules((960, 30), rest_h=1))
    early = record_wear(early, 1, at(1, 12), 1440, at(2, 12))
    assert early.to_come[0].start == at(3, 12)


@pytest.mark.parametrize(
    ("off_tree", "notes"),
    [
        (at(1, 10) - timedelta(hours=28), ()),
        (at(1, 10) - timedelta(hours=28, minutes=1), ("late-first-wear",)),
    ],
)
def test_more_than_36_hours_off_the_tree_before_the_first_wear_is_noted(off_tree, notes):
    """Eight hours from pickup to the first wear, and 28 before: just not, and just."""
    assert make_plan(at(1, 10), clock(MADRID, 18, 0), THREE, off_tree).notes == notes


def test_a_first_wear_put_off_past_36_hours_is_noted_and_a_later_wear_is_not(plan):
    """The same note appears when she moves the first wear, and only the first counts."""
    assert not_today(plan, 1, at(1, 12)).notes == ()
    assert not_today(not_today(plan, 1, at(1, 12)), 1, at(2, 12)).notes == ("late-first-wear",)
    assert move_missed(worn(plan, 1, 1), at(20, 12)).notes == ()


@pytest.mark.parametrize(
    ("zone", "hour", "minute", "field"),
    [
        ("Europe/Quillmarsh", 18, 0, "zone"),
        ("../etc", 18, 0, "zone"),
        ("", 18, 0, "zone"),
        (MADRID, 24, 0, "hour"),
        (MADRID, 18, 60, "hour"),
        (MADRID, -1, 0, "hour"),
        (MADRID, 18, -1, "hour"),
    ],
)
def test_a_zone_or_a_time_that_does_not_exist_is_refused(zone, hour, minute, field):
    """With the field it belongs to and a sentence that says what to give."""
    with pytest.raises(BadInput) as refused:
        make_plan(at(1, 10), clock(zone, hour, minute), THREE)
    assert refused.value.field == field
    assert refused.value.sentence.startswith(("Choose a time zone", "Give a time of day"))
    assert refused.value.typed == (zone if field == "zone" else f"{hour}:{minute:02}")


def test_the_last_minute_of_the_day_is_a_time(plan):
    """23:59 is taken, and so is midnight."""
    assert change_hour(plan, 23, 59, at(1, 12)).wears[0].start == at(1, 23, 59)
    assert change_hour(plan, 0, 0, at(1, 12)).wears[0].start == at(2, 0)


def test_boots_cannot_come_off_the_tree_after_they_were_fetched():
    """The slip is named with its field; at pickup itself is fine."""
    with pytest.raises(BadInput) as refused:
        make_plan(at(1, 10), clock(MADRID, 18, 0), THREE, at(1, 10, 1))
    assert (refused.value.field, refused.value.typed) == (
        "off_tree_at",
        "2026-06-01T08:01:00+00:00",
    )
    assert refused.value.sentence == "The boots came off the tree before pickup. Type that time."
    assert make_plan(at(1, 10), clock(MADRID, 18, 0), THREE, at(1, 10)).off_tree_at == at(1, 10)


def test_a_moment_without_its_zone_is_a_mistake_of_the_caller():
    """It would mean whatever zone the machine is in, and the same input would give another plan
    elsewhere.
    """
    with pytest.raises(ValueError, match="a moment needs its zone"):
        make_plan(datetime.fromisoformat("2026-06-01T10:00"), clock(MADRID, 18, 0), THREE)


@pytest.mark.parametrize(
    ("wrong", "field", "typed", "words"),
    [
        ({"minutes": ()}, "minutes", "0", "Give between 1 and 20 wears."),
        ({"minutes": (30,) * 21}, "minutes", "21", "Give between 1 and 20 wears."),
        ({"minutes": (30, 0)}, "minutes", "0", "Give each wear between 1 and 960 minutes."),
        ({"minutes": (961,)}, "minutes", "961", "Give each wear between 1 and 960 minutes."),
        ({"minutes": (30,), "rest_h": 0}, "rest_h", "0", "Give a rest between 1 and 240 hours."),
        (
            {"minutes": (30,), "rest_h": 241},
            "rest_h",
            "241",
            "Give a rest between 1 and 240 hours.",
        ),
        (
            {"minutes": (30,), "rest_from": "lunch"},
            "rest_from",
            "lunch",
            "Count the rest from putting on (start) or from taking off (end).",
        ),
    ],
)
def test_rules_of_the_shops_own_are_taken_within_limits(wrong, field, typed, words):
    """Outside them the sentence says what to give."""
    with pytest.raises(BadInput) as refused:
        WearRules(**wrong)
    assert (refused.value.field, refused.value.typed, refused.value.sentence) == (
        field,
        typed,
        words,
    )


def test_rules_at_their_limits_make_a_plan():
    """Twenty wears, 960 minutes, 240 hours; one wear of one minute, one hour of rest."""
    most = make_plan(at(1, 10), clock(MADRID, 18, 0), WearRules((960,) * 20, rest_h=240))
    assert len(most.wears) == 20
    least = WearRules((1,), rest_h=1)
    assert (least.rest_from, least.free_day_between, least.preset) == ("start", False, "own")
    assert make_plan(at(1, 10), clock(MADRID, 18, 0), least).ordinary_from == june(2)


def test_presets_are_known_by_name():
    """The two of the handbook, and a sentence for any other."""
    assert (THREE.minutes, THREE.rest_h, THREE.rest_from, THREE.free_day_between) == (
        (30, 30, 30),
        24,
        "start",
        False,
    )
    assert (GROWING.rest_h, GROWING.rest_from, GROWING.free_day_between) == (24, "start", True)
    assert (THREE.preset, GROWING.preset) == ("three-short-wears", "growing")
    assert WearRules((30,)).rest_h == 24
    with pytest.raises(BadInput) as refused:
        preset("gentle")
    assert (refused.value.field, refused.value.typed) == ("preset", "gentle")
    assert refused.value.sentence == "Choose three short wears or growing."


def test_plans_and_what_is_in_them_cannot_be_changed_in_place(plan):
    """Frozen and slotted: whoever holds a plan holds that plan."""
    for record, field in (
        (plan, "hour"),
        (plan.rules, "rest_h"),
        (plan.wears[0], "state"),
        (due(plan, at(1, 12)), "kind"),
        (plan.clock, "hour"),
    ):
        with pytest.raises(FrozenInstanceError):
            setattr(record, field, getattr(record, field))
        assert not hasattr(record, "__dict__")


@pytest.mark.parametrize(
    ("hour", "minute", "starts"),
    [
        (18, 0, [(18, 0), (18, 0), (18, 0), (18, 0), (18, 0), (14, 0)]),
        (21, 45, [(21, 30), (21, 30), (21, 0), (20, 0), (18, 0), (14, 0)]),
        (7, 0, [(7, 0)] * 6),
        (23, 0, [(23, 0)] * 6),
    ],
)
def test_a_wear_that_would_go_on_into_the_night_starts_earlier(hour, minute, starts):
    """All are over at ten; from an hour at night, which she was asked about, it is as she chose."""
    plan = make_plan(at(1, 10), clock(MADRID, hour, minute), GROWING)
    local = [wear.start.astimezone(plan.clock.zone) for wear in plan.wears]
    assert [(one.hour, one.minute) for one in local] == starts


def test_a_rest_that_ends_too_late_for_a_long_wear_puts_it_on_the_next_day():
    """Eight hours, daily: the rest is over at 4 PM, and from then they would end at midnight."""
    rules = WearRules(minutes=(30, 480), rest_h=22, rest_from="start", free_day_between=False)
    plan = make_plan(at(1, 10), clock(MADRID, 18, 0), rules)
    assert [wear.start for wear in plan.wears] == [at(1, 18), at(3, 14)]
