"""What was worn is kept as it was said, and everything after it keeps its rest."""

import pytest
from support.wearing_cast import GROWING, MADRID, at, days, fetched, june, worn

from fitcounter.errors import BadInput, Conflict
from fitcounter.fit.wear.missed_wears import move_missed
from fitcounter.fit.wear.rest import clock
from fitcounter.fit.wear.wear import EXTRA, WearRules
from fitcounter.fit.wear.wear_calendar import make_plan, record_wear


@pytest.fixture
def plan():
    """Three short wears, fetched on 1 June."""
    return fetched()


def test_a_wear_as_planned_is_kept_and_the_rest_of_the_plan_stays(plan):
    """Said against planned, side by side."""
    after = worn(plan, 1, 1)
    first = after.wears[0]
    assert (first.state, first.actual_start, first.actual_minutes) == ("worn", at(1, 18), 30)
    assert (first.start, first.end, first.minutes) == (at(1, 18), at(1, 18, 30), 30)
    assert after.wears[1:] == plan.wears[1:]
    assert (after.ordinary_from, after.notes) == (june(4), ())


def test_a_late_wear_moves_the_next_to_24_hours_after_it(plan):
    """On at 20:10 today is 20:10 tomorrow, and tomorrow's on time is 20:10 again: rest is never
    cut.
    """
    after = worn(plan, 1, 1, 20, 10)
    assert [wear.start for wear in after.to_come] == [at(2, 20, 10), at(3, 20, 10)]


def test_an_early_wear_is_kept_and_the_next_starts_at_her_hour_at_least_24_hours_after(plan):
    """On at noon: her hour tomorrow is thirty hours away, and it is her hour."""
    after = worn(plan, 1, 1, 12)
    assert after.wears[0].actual_start == at(1, 12)
    assert [wear.start for wear in after.to_come] == [at(2, 18), at(3, 18)]


@pytest.mark.parametrize(
    ("minutes", "too_long", "following"),
    [(10, False, [2, 3]), (35, False, [2, 3]), (36, True, [3, 4])],
)
def test_over_five_minutes_too_long_is_one_extra_day_of_rest_and_a_follow_up(
    plan, minutes, too_long, following
):
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
    assert (after.ordinary_from, after.first_whole_day, after.notes) == (
        june(5),
        june(6),
        ("too-long:3",),
    )


def test_growing_wears_too_long_rest_a_day_more():
    """Two days without instead of one."""
    plan = worn(make_plan(at(1, 10), clock(MADRID, 18, 0), GROWING), 1, 1, minutes=60)
    assert days(plan)[0] == 4


def test_an_extra_wear_is_kept_and_the_rest_counts_from_it(plan):
    """She put them on again on the first evening: the second wear waits until 24 hours after
    that.
    """
    after = worn(worn(plan, 1, 1), EXTRA, 1, 21, 0, 20)
    extra = after.wears[1]
    assert (extra.n, extra.state, extra.actual_start, extra.actual_minutes) == (
        0,
        "worn",
        at(1, 21),
        20,
    )
    assert (extra.start, extra.end, extra.minutes, extra.local_day) == (
        at(1, 21),
        at(1, 21, 30),
        30,
        june(1),
    )
    assert [wear.start for wear in after.to_come] == [at(2, 21), at(3, 21)]


def test_a_step_told_twice_at_different_times_is_an_extra_wear(plan):
    """Nothing that was said is thrown away."""
    after = worn(worn(plan, 1, 1), 1, 1, 21)
    assert [(wear.n, wear.state) for wear in after.wears] == [
        (1, "worn"),
        (0, "worn"),
        (2, "planned"),
        (3, "planned"),
    ]


def test_an_extra_wear_is_measured_against_the_step_last_worn():
    """After the third step of a growing plan 65 minutes are as usual, 66 are too long; before any
    step the first is the measure.
    """
    plan = make_plan(at(1, 10), clock(MADRID, 9, 0), GROWING)
    for n, day, minutes in ((1, 2, 30), (2, 4, 30), (3, 6, 60)):
        plan = worn(plan, n, day, 9, 0, minutes)
    assert worn(plan, EXTRA, 6, 20, 0, 65).notes == ()
    assert worn(plan, EXTRA, 6, 20, 0, 66).notes == ("too-long:0",)
    assert days(worn(plan, EXTRA, 6, 20, 0, 66))[0] == 9
    assert worn(plan, EXTRA, 1, 20, 0, 35).notes == ()
    assert worn(plan, EXTRA, 1, 20, 0, 36).notes == ("too-long:0",)
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
    long = worn(plan, 1, 1, minutes=int("600"))
    assert worn(long, 1, 1, minutes=int("600")) == long


@pytest.mark.parametrize(
    ("hour", "minute", "minutes"),
    [(18, 29, 10), (17, 31, 30), (18, 10, 5), (17, 0, 120), (18, 0, 31), (18, 1, 30)],
)
def test_a_wear_that_overlaps_a_recorded_one_is_a_conflict(plan, hour, minute, minutes):
    """Two phones that tell of the same evening; nothing is stored twice."""
    with pytest.raises(Conflict) as refused:
        worn(worn(plan, 1, 1), EXTRA, 1, hour, minute, minutes)
    assert refused.value.field == "started"
    assert refused.value.sentence == "You already saved boots on at that time. Type another time."


@pytest.mark.parametrize(("hour", "minute"), [(17, 30), (18, 30)])
def test_a_wear_right_before_or_after_another_does_not_overlap(plan, hour, minute):
    """Half-open intervals: touching is not overlapping."""
    assert len(worn(worn(plan, 1, 1), EXTRA, 1, hour, minute).closed) == 2


@pytest.mark.parametrize(
    ("n", "started", "minutes", "field", "typed", "words"),
    [
        (4, at(1, 18), 30, "n", "4", "Pick a day between 1 and 3."),
        (-1, at(1, 18), 30, "n", "-1", "Pick a day between 1 and 3."),
        (1, at(1, 18), 0, "minutes", "0", "Type the minutes, between 1 and 1440."),
        (
            1,
            at(1, 18),
            1441,
            "minutes",
            "1441",
            "Type the minutes, between 1 and 1440.",
        ),
        (
            1,
            at(5, 12, 1),
            30,
            "started",
            "2026-06-05T10:01:00+00:00",
            "That time has not come yet. Type when you put them on.",
        ),
        (
            1,
            at(1, 9, 59),
            30,
            "started",
            "2026-06-01T07:59:00+00:00",
            "That is before you picked up your boots. Type when you put them on.",
        ),
    ],
)
def test_a_record_that_cannot_be_is_refused_with_what_to_give(
    plan, n, started, minutes, field, typed, words
):
    """And what was typed."""
    with pytest.raises(BadInput) as refused:
        record_wear(plan, n, started, minutes, at(5, 12))
    assert (refused.value.field, refused.value.typed, refused.value.sentence) == (
        field,
        typed,
        words,
    )


def test_a_record_at_its_limits_is_taken(plan):
    """Put on this very moment, at the moment of pickup, for a minute, for a day and a night."""
    assert record_wear(plan, 1, at(1, 10), 1, at(1, 10)).wears[0].actual_start == at(1, 10)
    assert record_wear(plan, 1, at(1, 18), 1440, at(2, 18)).wears[0].actual_minutes == 1440


@pytest.mark.parametrize("minutes", [29, 31])
def test_the_same_start_with_other_minutes_is_a_conflict_and_not_the_same_record(plan, minutes):
    """Neither silently dropped nor written over what was said."""
    with pytest.raises(Conflict):
        worn(worn(plan, 1, 1), 1, 1, minutes=minutes)


def test_a_missed_step_is_no_measure_for_an_extra_wear():
    """Two half hours worn, the hour missed: 36 minutes more are still too long."""
    plan = make_plan(at(1, 10), clock(MADRID, 9, 0), GROWING)
    plan = move_missed(worn(worn(plan, 1, 2, 9), 2, 4, 9), at(7, 8))
    assert days(plan, "missed") == [6]
    assert worn(plan, EXTRA, 7, 8, 30, 36).notes == ("too-long:0",)


def test_ordinary_wear_days_later_is_no_note_either(plan):
    """A long day out a week on."""
    done = worn(worn(worn(plan, 1, 1), 2, 2), 3, 3)
    after = worn(done, EXTRA, 9, 9, 0, 600)
    assert (after.notes, after.ordinary_from) == ((), june(4))


def test_a_last_growing_wear_too_long_puts_ordinary_wear_off_by_a_day():
    """Two days without, and one more."""
    plan = make_plan(at(1, 10), clock(MADRID, 9, 0), WearRules((30, 60), free_day_between=True))
    assert plan.ordinary_from == june(6)
    assert worn(worn(plan, 1, 2, 9), 2, 4, 9, 0, 70).ordinary_from == june(7)
