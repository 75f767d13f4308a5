"""Days that go by move the calendar by whole days, and what is told late puts it right."""

from dataclasses import replace
from datetime import timedelta

import pytest
from support.wearing_cast import GROWING, MADRID, THREE, at, days, fetched, june, worn

from fitcounter.errors import OutOfOrder
from fitcounter.fit.wear.wear import EXTRA
from fitcounter.fit.wear.wear_calendar import make_plan, not_today, record_wear, roll


@pytest.fixture
def plan():
    """Three short wears, fetched on 1 June."""
    return fetched()


def test_a_wear_not_recorded_by_the_end_of_its_day_is_missed_and_all_after_it_move(plan):
    """Until midnight it can be told; a minute later it and all after it have moved by a day, the
    missed one stays in the log.
    """
    first = worn(plan, 1, 1)
    assert roll(first, at(2, 23, 59)) == first
    later = roll(first, at(3, 0))
    assert [(wear.n, wear.local_day.day, wear.state) for wear in later.wears] == [
        (1, 1, "worn"),
        (2, 2, "missed"),
        (2, 3, "planned"),
        (3, 4, "planned"),
    ]
    assert later.ordinary_from == june(5)


def test_nothing_doubles_up_after_weeks_away(plan):
    """All three are still to come, one a day from today; of the days gone by only the first missed
    one is kept.
    """
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
    """23:45 to 00:15: at midnight its day is over, at a quarter past she tells it, and the plan is
    the one it was.
    """
    plan = make_plan(at(1, 10), MADRID, 23, 45, THREE)
    midnight = roll(plan, at(2, 0))
    assert days(midnight, "missed") == [1]
    assert record_wear(midnight, 1, at(1, 23, 45), 30, at(2, 0, 15)) == record_wear(
        plan, 1, at(1, 23, 45), 30, at(2, 0, 15)
    )


def test_not_today_puts_the_wear_and_all_after_it_off_until_tomorrow(plan):
    """Without reproach: moved, not missed."""
    after = not_today(plan, 1, at(1, 12))
    assert [(wear.n, wear.local_day.day, wear.state) for wear in after.wears] == [
        (1, 1, "moved"),
        (1, 2, "planned"),
        (2, 3, "planned"),
        (3, 4, "planned"),
    ]
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
    assert [(wear.local_day.day, wear.state) for wear in after.closed] == [
        (1, "missed"),
        (5, "moved"),
    ]


def test_a_day_missed_after_one_put_off_is_kept_too(plan):
    """Moved on the first, missed on the second: both are said."""
    after = roll(not_today(plan, 1, at(1, 12)), at(3, 12))
    assert [(wear.local_day.day, wear.state) for wear in after.closed] == [
        (1, "moved"),
        (2, "missed"),
    ]
    assert days(after) == [3, 4, 5]


@pytest.mark.parametrize("n", [0, 1, 4])
def test_not_today_for_a_wear_that_is_not_to_come_is_out_of_order(plan, n):
    """Worn, extra, or of another plan."""
    with pytest.raises(OutOfOrder) as refused:
        not_today(worn(plan, 1, 1), n, at(2, 12))
    assert (refused.value.field, refused.value.typed) == ("n", str(n))
    assert refused.value.sentence == "Today’s plan has changed. Load the page again."


def test_a_wear_told_late_takes_back_the_missed_of_its_day(plan):
    """Worn on the second without network, told on the fourth: not missed, and the third is due by
    the rest from then.
    """
    missed = roll(worn(plan, 1, 1), at(4, 12))
    assert days(missed, "missed") == [2]
    told = record_wear(missed, 2, at(2, 18, 5), 30, at(4, 12))
    assert [(wear.n, wear.local_day.day, wear.state) for wear in told.wears] == [
        (1, 1, "worn"),
        (2, 2, "worn"),
        (3, 3, "missed"),
        (3, 4, "planned"),
    ]
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
    assert [(wear.n, wear.state) for wear in late.wears] == [
        (1, "worn"),
        (2, "missed"),
        (3, "worn"),
        (2, "planned"),
    ]
    late = record_wear(late, 2, at(2, 18), 30, at(6, 12))
    assert [(wear.n, wear.state) for wear in late.wears] == [(1, "worn"), (2, "worn"), (3, "worn")]


def test_a_wear_told_late_takes_back_the_missed_of_a_day_after_it_too(plan):
    """The second wear was put on late on the first evening already, told on the fourth: the second
    day missed nothing.
    """
    told = record_wear(roll(worn(plan, 1, 1, 12), at(4, 12)), 2, at(1, 23), 30, at(4, 12))
    assert [(wear.n, wear.local_day.day, wear.state) for wear in told.closed] == [
        (1, 1, "worn"),
        (2, 1, "worn"),
        (3, 3, "missed"),
    ]


def test_a_wear_told_for_a_later_day_leaves_the_missed_day_as_it_was(plan):
    """Missed on the second, worn on the third, told on the fourth."""
    told = record_wear(roll(worn(plan, 1, 1), at(4, 12)), 2, at(3, 18), 30, at(4, 12))
    assert [(wear.n, wear.local_day.day, wear.state) for wear in told.closed] == [
        (1, 1, "worn"),
        (2, 2, "missed"),
        (2, 3, "worn"),
    ]
    assert told.closed[2].start == at(4, 18)


def test_a_wear_after_not_today_on_the_same_day_takes_the_not_today_back(plan):
    """She changed her mind."""
    after = worn(not_today(plan, 1, at(1, 12)), 1, 1, 20)
    assert [(wear.n, wear.state) for wear in after.closed] == [(1, "worn")]
    assert days(after) == [2, 3]


def test_an_extra_wear_never_takes_back_the_missed_of_a_step_already_worn(plan):
    """Missed on the second, worn on the third; step two again, on the second in the morning, is
    extra.
    """
    done = record_wear(roll(worn(plan, 1, 1), at(3, 12)), 2, at(3, 18), 30, at(3, 19))
    after = record_wear(done, 2, at(2, 9), 30, at(3, 19))
    assert [(wear.n, wear.local_day.day, wear.state) for wear in after.closed] == [
        (1, 1, "worn"),
        (0, 2, "worn"),
        (2, 2, "missed"),
        (2, 3, "worn"),
    ]


def test_a_missed_growing_wear_is_due_the_next_day_because_nothing_was_worn():
    """A free day lies between two wears, not between a wear and one that was missed or put off."""
    plan = make_plan(at(1, 10), MADRID, 18, 0, GROWING)
    assert days(roll(plan, at(2, 12)))[:2] == [2, 4]
    assert days(not_today(plan, 1, at(1, 12)))[:2] == [2, 4]


def test_a_missed_strict_wear_starts_at_her_hour_the_next_day():
    """There is no taking off to count the rest from."""
    plan = make_plan(at(1, 10), MADRID, 18, 0, replace(THREE, rest_from="end"))
    assert roll(plan, at(2, 12)).to_come[0].start == at(2, 18)


def test_days_missed_around_a_wear_for_fun_are_one_entry(plan):
    """The first step missed on the first, an extra wear on the second, missed again on the third:
    still the same step missed.
    """
    extra = record_wear(roll(plan, at(2, 9)), EXTRA, at(2, 12), 30, at(2, 13))
    assert [(wear.n, wear.local_day.day, wear.state) for wear in roll(extra, at(5, 9)).closed] == [
        (1, 1, "missed"),
        (EXTRA, 2, "worn"),
    ]
