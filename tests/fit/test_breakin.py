"""The wearing-in calendar moves with what really happens, and never doubles up or forgets."""

from dataclasses import FrozenInstanceError, replace
from datetime import UTC, date, datetime, timedelta, timezone

import pytest

from fitcounter.errors import BadInput, Conflict, OutOfOrder
from fitcounter.fit.breakin import call_off, change_hour, due, make_plan, not_today, record_wear, roll
from fitcounter.fit.wear import EXTRA, WearRules, preset

MADRID = "Europe/Madrid"
THREE = preset("three-short-wears")
GROWING = preset("growing")


def at(day, hour, minute=0):
    """A moment of June 2026 on a clock in Madrid, two hours ahead of UTC."""
    return datetime(2026, 6, day, hour, minute, tzinfo=timezone(timedelta(hours=2))).astimezone(UTC)


def june(day):
    """A date of June 2026."""
    return date(2026, 6, day)


def days(plan, *states):
    """Days of June of the entries in those states, "planned" unless said."""
    return [wear.local_day.day for wear in plan.wears if wear.state in (states or ("planned",))]


@pytest.fixture
def plan():
    """Fetched on Monday 1 June at ten, worn at six in the evening: the 1st, 2nd and 3rd, ordinary wear from the 4th."""
    return make_plan(at(1, 10), MADRID, 18, 0, THREE)


def worn(plan, n, day, hour=18, minute=0, minutes=30):
    """The plan after a wear told as soon as it was over."""
    started = at(day, hour, minute)
    return record_wear(plan, n, started, minutes, started + timedelta(minutes=minutes))


# ------------------------------------------------------------------ the plan


def test_three_short_wears_are_half_an_hour_on_three_days_and_ordinary_wear_begins_on_day_four(plan):
    """At her hour, the first within 24 hours, an outing on day four, a whole day on day five."""
    assert [(wear.n, wear.start, wear.end, wear.minutes, wear.local_day, wear.state) for wear in plan.wears] == [
        (n, at(n, 18), at(n, 18, 30), 30, june(n), "planned") for n in (1, 2, 3)
    ]
    assert (plan.ordinary_from, plan.first_whole_day) == (june(4), june(5))
    assert (plan.notes, plan.follow_up, plan.off_tree_at) == ((), False, at(1, 10))


def test_growing_wears_have_a_day_without_between_any_two():
    """30 min, 30 min, 1, 2, 4 and 8 h, every other day; ordinary wear after one more day without."""
    plan = make_plan(at(1, 10), MADRID, 9, 0, GROWING)
    assert [wear.minutes for wear in plan.wears] == [30, 30, 60, 120, 240, 480]
    assert days(plan) == [2, 4, 6, 8, 10, 12]
    assert (plan.ordinary_from, plan.first_whole_day) == (june(14), june(15))


@pytest.mark.parametrize(("hour", "minute", "first"), [(18, 0, at(1, 18)), (9, 59, at(2, 9, 59)), (10, 0, at(1, 10))])
def test_the_first_wear_is_the_next_time_her_hour_comes_round(hour, minute, first):
    """Later the same day, the next morning, or at once when she is fetched right at her hour."""
    plan = make_plan(at(1, 10), MADRID, hour, minute, THREE)
    assert plan.wears[0].start == first


def test_the_strict_form_rests_from_taking_off():
    """Each start slips by the length of the wear before: 18:00, 18:30, 19:00."""
    plan = make_plan(at(1, 10), MADRID, 18, 0, replace(THREE, rest_from="end"))
    assert [wear.start for wear in plan.wears] == [at(1, 18), at(2, 18, 30), at(3, 19)]


def test_a_longer_rest_sets_the_days_of_wear_and_of_ordinary_wear():
    """36 hours of rest are two days to the next wear at her hour, and two whole days before ordinary wear."""
    plan = make_plan(at(1, 10), MADRID, 18, 0, WearRules((30, 30), rest_h=36))
    assert [wear.start for wear in plan.wears] == [at(1, 18), at(3, 18)]
    assert plan.ordinary_from == june(5)


def test_a_short_rest_never_puts_two_wears_on_one_day():
    """Twelve hours after ten in the morning is the same evening, and still it is the next day."""
    plan = make_plan(at(1, 9), MADRID, 10, 0, WearRules((30, 30), rest_h=6))
    assert days(plan) == [1, 2]


def test_a_rest_shorter_than_the_wear_starts_when_it_is_over():
    """A wear of 16 hours from ten in the evening with one hour of rest from putting on: not while they are on."""
    plan = make_plan(at(1, 9), MADRID, 22, 0, WearRules((960, 30), rest_h=1))
    assert plan.wears[1].start == at(2, 22)
    early = make_plan(at(1, 9), MADRID, 12, 0, WearRules((960, 30), rest_h=1))
    early = record_wear(early, 1, at(1, 12), 1440, at(2, 12))
    assert early.to_come[0].start == at(3, 12)


@pytest.mark.parametrize(
    ("off_tree", "notes"), [(at(1, 10) - timedelta(hours=28), ()), (at(1, 10) - timedelta(hours=28, minutes=1), ("late-first-wear",))]
)
def test_more_than_36_hours_off_the_tree_before_the_first_wear_is_noted(off_tree, notes):
    """Eight hours from pickup to the first wear, and 28 before: just not, and just."""
    assert make_plan(at(1, 10), MADRID, 18, 0, THREE, off_tree).notes == notes


def test_a_first_wear_put_off_past_36_hours_is_noted_and_a_later_wear_is_not(plan):
    """The same note appears when she moves the first wear, and only the first counts."""
    assert not_today(plan, 1, at(1, 12)).notes == ()
    assert not_today(not_today(plan, 1, at(1, 12)), 1, at(2, 12)).notes == ("late-first-wear",)
    assert roll(worn(plan, 1, 1), at(20, 12)).notes == ()


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
        make_plan(at(1, 10), zone, hour, minute, THREE)
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
        make_plan(at(1, 10), MADRID, 18, 0, THREE, at(1, 10, 1))
    assert (refused.value.field, refused.value.typed) == ("off_tree_at", "2026-06-01T08:01:00+00:00")
    assert refused.value.sentence == "They came off the tree before they were fetched. Give that time."
    assert make_plan(at(1, 10), MADRID, 18, 0, THREE, at(1, 10)).off_tree_at == at(1, 10)


def test_a_moment_without_its_zone_is_a_mistake_of_the_caller():
    """It would mean whatever zone the machine is in, and the same input would give another plan elsewhere."""
    with pytest.raises(ValueError, match="a moment needs its zone"):
        make_plan(datetime(2026, 6, 1, 10), MADRID, 18, 0, THREE)  # noqa: DTZ001 (the point of the test)


@pytest.mark.parametrize(
    ("wrong", "field", "typed", "words"),
    [
        ({"minutes": ()}, "minutes", "0", "Give between 1 and 20 wears."),
        ({"minutes": (30,) * 21}, "minutes", "21", "Give between 1 and 20 wears."),
        ({"minutes": (30, 0)}, "minutes", "0", "Give each wear between 1 and 960 minutes."),
        ({"minutes": (961,)}, "minutes", "961", "Give each wear between 1 and 960 minutes."),
        ({"minutes": (30,), "rest_h": 0}, "rest_h", "0", "Give a rest between 1 and 240 hours."),
        ({"minutes": (30,), "rest_h": 241}, "rest_h", "241", "Give a rest between 1 and 240 hours."),
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
    assert (refused.value.field, refused.value.typed, refused.value.sentence) == (field, typed, words)


def test_rules_at_their_limits_make_a_plan():
    """Twenty wears, 960 minutes, 240 hours; one wear of one minute, one hour of rest."""
    most = make_plan(at(1, 10), MADRID, 18, 0, WearRules((960,) * 20, rest_h=240))
    assert len(most.wears) == 20
    least = WearRules((1,), rest_h=1)
    assert (least.rest_from, least.free_day_between, least.preset) == ("start", False, "own")
    assert make_plan(at(1, 10), MADRID, 18, 0, least).ordinary_from == june(2)


def test_presets_are_known_by_name():
    """The two of the handbook, and a sentence for any other."""
    assert (THREE.minutes, THREE.rest_h, THREE.rest_from, THREE.free_day_between) == ((30, 30, 30), 24, "start", False)
    assert (GROWING.rest_h, GROWING.rest_from, GROWING.free_day_between) == (24, "start", True)
    assert (THREE.preset, GROWING.preset) == ("three-short-wears", "growing")
    assert WearRules((30,)).rest_h == 24
    with pytest.raises(BadInput) as refused:
        preset("gentle")
    assert (refused.value.field, refused.value.typed) == ("preset", "gentle")
    assert refused.value.sentence == "Choose three short wears or growing."


# ------------------------------------------------------------------ what was worn


def test_a_wear_as_planned_is_kept_and_the_rest_of_the_plan_stays(plan):
    """Said against planned, side by side."""
    after = worn(plan, 1, 1)
    first = after.wears[0]
    assert (first.state, first.actual_start, first.actual_minutes) == ("worn", at(1, 18), 30)
    assert (first.start, first.end, first.minutes) == (at(1, 18), at(1, 18, 30), 30)
    assert after.wears[1:] == plan.wears[1:]
    assert (after.ordinary_from, after.notes) == (june(4), ())


def test_a_late_wear_moves_the_next_to_24_hours_after_it(plan):
    """On at 20:10 today is 20:10 tomorrow, and tomorrow's on time is 20:10 again: rest is never cut."""
    after = worn(plan, 1, 1, 20, 10)
    assert [wear.start for wear in after.to_come] == [at(2, 20, 10), at(3, 20, 10)]


def test_an_early_wear_is_kept_and_the_next_starts_at_her_hour_at_least_24_hours_after(plan):
    """On at noon: her hour tomorrow is thirty hours away, and it is her hour."""
    after = worn(plan, 1, 1, 12)
    assert after.wears[0].actual_start == at(1, 12)
    assert [wear.start for wear in after.to_come] == [at(2, 18), at(3, 18)]


@pytest.mark.parametrize(("minutes", "too_long", "following"), [(10, False, [2, 3]), (35, False, [2, 3]), (36, True, [3, 4])])
def test_over_five_minutes_too_long_is_one_extra_day_of_rest_and_a_follow_up(plan, minutes, too_long, following):
    """Five minutes over is not, six are; what she said is kept in every case."""
    after = worn(plan, 1, 1, minutes=minutes)
    assert after.wears[0].actual_minutes == minutes
    assert after.wears[0].too_long is too_long
    assert days(after) == following
    assert after.notes == (("too-long:1",) if too_long else ())
    assert after.follow_up is too_long


def test_a_last_wear_too_long_puts_ordinary_wear_off_by_a_day(plan):
    """The fifth instead of the fourth."""
    after = worn(worn(worn(plan, 1, 1), 2, 2), 3, 3, minutes=90)
    assert (after.ordinary_from, after.first_whole_day, after.notes) == (june(5), june(6), ("too-long:3",))


def test_growing_wears_too_long_rest_a_day_more():
    """Two days without instead of one."""
    plan = worn(make_plan(at(1, 10), MADRID, 18, 0, GROWING), 1, 1, minutes=60)
    assert days(plan)[0] == 4


def test_an_extra_wear_is_kept_and_the_rest_counts_from_it(plan):
    """She put them on again on the first evening: the second wear waits until 24 hours after that."""
    after = worn(worn(plan, 1, 1), EXTRA, 1, 21, 0, 20)
    extra = after.wears[1]
    assert (extra.n, extra.state, extra.actual_start, extra.actual_minutes) == (0, "worn", at(1, 21), 20)
    assert (extra.start, extra.end, extra.minutes, extra.local_day) == (at(1, 21), at(1, 21, 30), 30, june(1))
    assert [wear.start for wear in after.to_come] == [at(2, 21), at(3, 21)]


def test_a_step_told_twice_at_different_times_is_an_extra_wear(plan):
    """Nothing that was said is thrown away."""
    after = worn(worn(plan, 1, 1), 1, 1, 21)
    assert [(wear.n, wear.state) for wear in after.wears] == [(1, "worn"), (0, "worn"), (2, "planned"), (3, "planned")]


def test_an_extra_wear_is_measured_against_the_step_last_worn():
    """After the third step of a growing plan 65 minutes are as usual, 66 are too long; before any step the first is the measure."""
    plan = make_plan(at(1, 10), MADRID, 9, 0, GROWING)
    for n, day, minutes in ((1, 2, 30), (2, 4, 30), (3, 6, 60)):
        plan = worn(plan, n, day, 9, 0, minutes)
    assert worn(plan, EXTRA, 6, 20, 0, 65).notes == ()
    assert worn(plan, EXTRA, 6, 20, 0, 66).notes == ("too-long:0",)
    assert days(worn(plan, EXTRA, 6, 20, 0, 66))[0] == 9
    assert worn(plan, EXTRA, 1, 20, 0, 35).notes == ()
    assert worn(plan, EXTRA, 3, 20, 0, 36).notes == ("too-long:0",)


def test_an_extra_wear_after_the_last_step_puts_ordinary_wear_off(plan):
    """Late on the third day she wears them past midnight: the fourth is not free any more."""
    done = worn(worn(worn(plan, 1, 1), 2, 2), 3, 3)
    assert worn(done, EXTRA, 3, 23, 30, 31).ordinary_from == june(5)
    assert worn(done, EXTRA, 3, 23, 30, 30).ordinary_from == june(4)
    assert worn(done, EXTRA, 3, 21, 0, 36).ordinary_from == june(5)


def test_ordinary_wear_that_is_told_changes_no_day(plan):
    """From the fourth on it is no wear of the plan; it is kept, without a note however long."""
    done = worn(worn(worn(plan, 1, 1), 2, 2), 3, 3)
    after = worn(done, EXTRA, 4, 9, 0, 600)
    assert (after.ordinary_from, after.first_whole_day, after.notes) == (june(4), june(5), ())
    assert after.wears[-1].actual_minutes == 600


def test_the_very_same_record_twice_changes_nothing(plan):
    """A phone that sends again after a lost answer."""
    once = worn(plan, 1, 1)
    assert worn(once, 1, 1) == once


@pytest.mark.parametrize(("hour", "minute", "minutes"), [(18, 29, 10), (17, 31, 30), (18, 10, 5), (17, 0, 120), (18, 0, 31), (18, 1, 30)])
def test_a_wear_that_overlaps_a_recorded_one_is_a_conflict(plan, hour, minute, minutes):
    """Two phones that tell of the same evening; nothing is stored twice."""
    with pytest.raises(Conflict) as refused:
        worn(worn(plan, 1, 1), EXTRA, 1, hour, minute, minutes)
    assert refused.value.field == "started"
    assert refused.value.sentence == "A wear at that time is already recorded. Give the time of the other one."


@pytest.mark.parametrize(("hour", "minute"), [(17, 30), (18, 30)])
def test_a_wear_right_before_or_after_another_does_not_overlap(plan, hour, minute):
    """Half-open intervals: touching is not overlapping."""
    assert len(worn(worn(plan, 1, 1), EXTRA, 1, hour, minute).closed) == 2


@pytest.mark.parametrize(
    ("n", "started", "minutes", "field", "typed", "words"),
    [
        (4, at(1, 18), 30, "n", "4", "Give a wear between 1 and 3."),
        (-1, at(1, 18), 30, "n", "-1", "Give a wear between 1 and 3."),
        (1, at(1, 18), 0, "minutes", "0", "Give the minutes they were on, between 1 and 1440."),
        (1, at(1, 18), 1441, "minutes", "1441", "Give the minutes they were on, between 1 and 1440."),
        (1, at(5, 12, 1), 30, "started", "2026-06-05T10:01:00+00:00", "That is still to come. Give the time they were put on."),
        (1, at(1, 9, 59), 30, "started", "2026-06-01T07:59:00+00:00", "That is before they were fetched. Give the time they were put on."),
    ],
)
def test_a_record_that_cannot_be_is_refused_with_what_to_give(plan, n, started, minutes, field, typed, words):
    """And what was typed."""
    with pytest.raises(BadInput) as refused:
        record_wear(plan, n, started, minutes, at(5, 12))
    assert (refused.value.field, refused.value.typed, refused.value.sentence) == (field, typed, words)


def test_a_record_at_its_limits_is_taken(plan):
    """Put on this very moment, at the moment of pickup, for a minute, for a day and a night."""
    assert record_wear(plan, 1, at(1, 10), 1, at(1, 10)).wears[0].actual_start == at(1, 10)
    assert record_wear(plan, 1, at(1, 18), 1440, at(2, 18)).wears[0].actual_minutes == 1440


# ------------------------------------------------------------------ days that go by


def test_a_wear_not_recorded_by_the_end_of_its_day_is_missed_and_all_after_it_move(plan):
    """Until midnight it can be told; a minute later it and all after it have moved by a day, the missed one stays in the log."""
    first = worn(plan, 1, 1)
    assert roll(first, at(2, 23, 59)) == first
    later = roll(first, at(3, 0))
    assert [(wear.n, wear.local_day.day, wear.state) for wear in later.wears] == [
        (1, 1, "worn"), (2, 2, "missed"), (2, 3, "planned"), (3, 4, "planned"),
    ]  # fmt: skip
    assert later.ordinary_from == june(5)


def test_nothing_doubles_up_after_weeks_away(plan):
    """All three are still to come, one a day from today; of the days gone by only the first missed one is kept."""
    back = roll(plan, at(20, 12))
    assert days(back) == [20, 21, 22]
    assert days(back, "missed") == [1]
    assert back.ordinary_from == june(23)


def test_rolling_every_hour_or_once_gives_the_same_plan(plan):
    """Whoever looks at the page, and how often, changes nothing."""
    often = plan
    for hours in range(24 * 9):
        often = roll(often, at(1, 12) + timedelta(hours=hours))
    assert often == roll(plan, at(1, 12) + timedelta(hours=24 * 9 - 1))


def test_a_wear_across_midnight_is_missed_only_until_it_is_told():
    """23:45 to 00:15: at midnight its day is over, at a quarter past she tells it, and the plan is the one it was."""
    plan = make_plan(at(1, 10), MADRID, 23, 45, THREE)
    midnight = roll(plan, at(2, 0))
    assert days(midnight, "missed") == [1]
    assert record_wear(midnight, 1, at(1, 23, 45), 30, at(2, 0, 15)) == record_wear(plan, 1, at(1, 23, 45), 30, at(2, 0, 15))


def test_not_today_puts_the_wear_and_all_after_it_off_until_tomorrow(plan):
    """Without reproach: moved, not missed."""
    after = not_today(plan, 1, at(1, 12))
    assert [(wear.n, wear.local_day.day, wear.state) for wear in after.wears] == [
        (1, 1, "moved"), (1, 2, "planned"), (2, 3, "planned"), (3, 4, "planned"),
    ]  # fmt: skip
    assert after.wears[1].start == at(2, 18)


def test_not_today_pressed_twice_moves_it_once(plan):
    """The second press finds a wear that is not today's."""
    once = not_today(plan, 1, at(1, 12))
    assert not_today(once, 1, at(1, 12, 1)) == once
    assert days(not_today(once, 1, at(2, 0))) == [3, 4, 5]


def test_not_today_on_a_day_that_was_missed_before_moves_from_today(plan):
    """She opens the page on the fifth and says not today: tomorrow is the sixth."""
    after = not_today(plan, 1, at(5, 12))
    assert days(after) == [6, 7, 8]
    assert [(wear.local_day.day, wear.state) for wear in after.closed] == [(1, "missed"), (5, "moved")]


def test_a_day_missed_after_one_put_off_is_kept_too(plan):
    """Moved on the first, missed on the second: both are said."""
    after = roll(not_today(plan, 1, at(1, 12)), at(3, 12))
    assert [(wear.local_day.day, wear.state) for wear in after.closed] == [(1, "moved"), (2, "missed")]
    assert days(after) == [3, 4, 5]


@pytest.mark.parametrize("n", [0, 1, 4])
def test_not_today_for_a_wear_that_is_not_to_come_is_out_of_order(plan, n):
    """Worn, extra, or of another plan."""
    with pytest.raises(OutOfOrder) as refused:
        not_today(worn(plan, 1, 1), n, at(2, 12))
    assert (refused.value.field, refused.value.typed) == ("n", str(n))
    assert refused.value.sentence == "That wear is not one of those to come."


def test_a_wear_told_late_takes_back_the_missed_of_its_day(plan):
    """Worn on the second without network, told on the fourth: not missed, and the third is due by the rest from then."""
    missed = roll(worn(plan, 1, 1), at(4, 12))
    assert days(missed, "missed") == [2]
    told = record_wear(missed, 2, at(2, 18, 5), 30, at(4, 12))
    assert [(wear.n, wear.local_day.day, wear.state) for wear in told.wears] == [
        (1, 1, "worn"), (2, 2, "worn"), (3, 3, "missed"), (3, 4, "planned"),
    ]  # fmt: skip
    assert (told.wears[1].start, told.wears[1].actual_start) == (at(2, 18), at(2, 18, 5))


def test_two_wears_told_late_in_order_leave_no_missed_day(plan):
    """What waited on the phone goes in order, and the plan is the one it would have been."""
    late = roll(worn(plan, 1, 1), at(6, 12))
    for n in (2, 3):
        late = record_wear(late, n, at(n, 18), 30, at(6, 12))
    assert late == worn(worn(worn(plan, 1, 1), 2, 2), 3, 3)


def test_a_wear_told_late_in_the_wrong_order_ends_in_the_same_plan(plan):
    """The third before the second: both are kept as said."""
    late = roll(worn(plan, 1, 1), at(6, 12))
    late = record_wear(late, 3, at(3, 18), 30, at(6, 12))
    assert [(wear.n, wear.state) for wear in late.wears] == [(1, "worn"), (2, "missed"), (3, "worn"), (2, "planned")]
    late = record_wear(late, 2, at(2, 18), 30, at(6, 12))
    assert [(wear.n, wear.state) for wear in late.wears] == [(1, "worn"), (2, "worn"), (3, "worn")]


def test_a_wear_told_late_takes_back_the_missed_of_a_day_after_it_too(plan):
    """The second wear was put on late on the first evening already, told on the fourth: the second day missed nothing."""
    told = record_wear(roll(worn(plan, 1, 1, 12), at(4, 12)), 2, at(1, 23), 30, at(4, 12))
    assert [(wear.n, wear.local_day.day, wear.state) for wear in told.closed] == [(1, 1, "worn"), (2, 1, "worn"), (3, 2, "missed")]


def test_a_wear_told_for_a_later_day_leaves_the_missed_day_as_it_was(plan):
    """Missed on the second, worn on the third, told on the fourth."""
    told = record_wear(roll(worn(plan, 1, 1), at(4, 12)), 2, at(3, 18), 30, at(4, 12))
    assert [(wear.n, wear.local_day.day, wear.state) for wear in told.closed] == [(1, 1, "worn"), (2, 2, "missed"), (2, 3, "worn")]


def test_a_wear_after_not_today_on_the_same_day_takes_the_not_today_back(plan):
    """She changed her mind."""
    after = worn(not_today(plan, 1, at(1, 12)), 1, 1, 20)
    assert [(wear.n, wear.state) for wear in after.closed] == [(1, "worn")]
    assert days(after) == [2, 3]


def test_an_extra_wear_never_takes_back_the_missed_of_a_step_already_worn(plan):
    """Missed on the second, worn on the third; step two again, on the second in the morning, is extra."""
    done = record_wear(roll(worn(plan, 1, 1), at(3, 12)), 2, at(3, 18), 30, at(3, 19))
    after = record_wear(done, 2, at(2, 9), 30, at(3, 19))
    assert [(wear.n, wear.local_day.day, wear.state) for wear in after.closed] == [
        (1, 1, "worn"), (0, 2, "worn"), (2, 2, "missed"), (2, 3, "worn"),
    ]  # fmt: skip


# ------------------------------------------------------------------ another hour, the end of it


def test_another_hour_moves_what_is_to_come_and_nothing_before_today(plan):
    """From six in the evening to half past eight, chosen at noon of the second: the third is the first morning with a whole rest."""
    after = change_hour(worn(plan, 1, 1), 8, 30, at(2, 12))
    assert (after.hour, after.minute) == (8, 30)
    assert [wear.start for wear in after.to_come] == [at(3, 8, 30), at(4, 8, 30)]
    assert roll(after, at(2, 23)) == after
    evening = change_hour(worn(plan, 1, 1), 21, 0, at(2, 12))
    assert [wear.start for wear in evening.to_come] == [at(2, 21), at(3, 21)]


def test_a_later_hour_chosen_the_day_after_pickup_is_not_a_missed_wear():
    """Fetched at seven in the evening, planned for six the next day; at noon she says eight: it is today at eight."""
    plan = make_plan(at(1, 19), MADRID, 18, 0, THREE)
    after = change_hour(plan, 20, 0, at(2, 12))
    assert after.wears[0].start == at(2, 20)
    assert after.closed == ()


def test_what_is_called_off_stays_in_the_log_and_nothing_is_due(plan):
    """The boots are back in the shop: the wears to come are withdrawn with their days, what was worn stays."""
    after = call_off(worn(plan, 1, 1), at(2, 12))
    assert [(wear.n, wear.local_day.day, wear.state) for wear in after.wears] == [(1, 1, "worn"), (2, 2, "off"), (3, 3, "off")]
    assert (after.ordinary_from, after.to_come) == (june(4), ())
    assert due(after, at(4, 12)).kind == "over"
    assert due(after, at(2, 12)).kind == "over"
    assert roll(after, at(20, 12)) == after


def test_a_plan_called_off_before_any_wear_is_still_a_plan(plan):
    """And a wear told afterwards is kept as an extra one."""
    after = call_off(plan, at(1, 12))
    assert days(after, "off") == [1, 2, 3]
    told = worn(after, 2, 1)
    assert [(wear.n, wear.state) for wear in told.wears][0:2] == [(1, "off"), (0, "worn")]


def test_what_is_due_follows_the_whole_way(plan):
    """Rest, wear, rest, … an outing, a whole day, and it is over."""
    assert due(plan, at(1, 17, 59)).kind == "rest"
    assert (due(plan, at(1, 12)).until, due(plan, at(1, 12)).wear) == (at(1, 18), plan.wears[0])
    assert (due(plan, at(1, 18)).kind, due(plan, at(1, 18)).wear, due(plan, at(1, 18)).until) == ("wear", plan.wears[0], None)
    assert due(plan, at(1, 23, 59)).kind == "wear"
    one = worn(plan, 1, 1)
    assert (due(one, at(1, 18, 30)).kind, due(one, at(1, 18, 30)).until) == ("rest", at(2, 18))
    done = worn(worn(one, 2, 2), 3, 3)
    assert (due(done, at(3, 23, 59)).kind, due(done, at(3, 20)).until, due(done, at(3, 20)).wear) == ("rest", at(4, 0), None)
    assert [due(done, at(day, hour)).kind for day, hour in ((4, 0), (4, 23), (5, 0), (5, 23), (6, 0))] == [
        "ordinary", "ordinary", "whole-day", "whole-day", "over",
    ]  # fmt: skip


def test_what_is_due_rolls_the_plan_first(plan):
    """On the day after a missed wear it is due today."""
    now = due(plan, at(2, 19))
    assert (now.kind, now.wear.n, now.wear.local_day) == ("wear", 1, june(2))


def test_moments_of_any_zone_are_the_same_moments(plan):
    """An instant is an instant: told in Tokyo time, kept in UTC."""
    tokyo = timezone(timedelta(hours=9))
    told = record_wear(plan, 1, at(1, 18).astimezone(tokyo), 30, at(1, 19).astimezone(tokyo))
    assert told == record_wear(plan, 1, at(1, 18), 30, at(1, 19))
    assert str(told.wears[0].actual_start) == "2026-06-01 16:00:00+00:00"
    assert make_plan(at(1, 10).astimezone(tokyo), MADRID, 18, 0, THREE, at(1, 9).astimezone(tokyo)) == make_plan(
        at(1, 10), MADRID, 18, 0, THREE, at(1, 9)
    )


def test_another_hour_before_a_25_hour_day_keeps_the_first_wear_within_24_hours():
    """The cap of the first wear lies before her hour: it is not a rest that ends late, and costs no day."""
    picked_up = datetime(2026, 10, 31, 22, 1, tzinfo=UTC)
    plan = make_plan(picked_up, "America/New_York", 20, 0, THREE)
    after = change_hour(plan, 18, 0, picked_up)
    assert after.wears[0].start == picked_up + timedelta(hours=24)


def test_another_hour_for_a_plan_with_nothing_to_come_changes_no_day(plan):
    """All three worn."""
    done = worn(worn(worn(plan, 1, 1), 2, 2), 3, 3)
    assert change_hour(done, 9, 0, at(3, 20)).wears == done.wears


@pytest.mark.parametrize("minutes", [29, 31])
def test_the_same_start_with_other_minutes_is_a_conflict_and_not_the_same_record(plan, minutes):
    """Neither silently dropped nor written over what was said."""
    with pytest.raises(Conflict):
        worn(worn(plan, 1, 1), 1, 1, minutes=minutes)


def test_another_hour_in_the_strict_form_starts_today(plan):
    """The first wear is at the new hour; that the second slips by half an hour costs no day."""
    strict = make_plan(at(1, 10), MADRID, 18, 0, replace(THREE, rest_from="end"))
    assert [wear.start for wear in change_hour(strict, 20, 0, at(1, 12)).to_come] == [at(1, 20), at(2, 20, 30), at(3, 21)]


def test_a_missed_growing_wear_is_due_the_next_day_because_nothing_was_worn():
    """A free day lies between two wears, not between a wear and one that was missed or put off."""
    plan = make_plan(at(1, 10), MADRID, 18, 0, GROWING)
    assert days(roll(plan, at(2, 12)))[:2] == [2, 4]
    assert days(not_today(plan, 1, at(1, 12)))[:2] == [2, 4]


def test_a_missed_strict_wear_starts_at_her_hour_the_next_day():
    """There is no taking off to count the rest from."""
    plan = make_plan(at(1, 10), MADRID, 18, 0, replace(THREE, rest_from="end"))
    assert roll(plan, at(2, 12)).to_come[0].start == at(2, 18)


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
