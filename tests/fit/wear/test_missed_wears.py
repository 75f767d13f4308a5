"""Days that go by without a wear move the calendar by whole days."""

from dataclasses import replace
from datetime import timedelta

import pytest
from support.wearing_cast import GROWING, MADRID, THREE, at, days, fetched, june, worn

from fitcounter.fit.wear.missed_wears import every_missed_day, move_missed
from fitcounter.fit.wear.rest import clock
from fitcounter.fit.wear.wear import EXTRA
from fitcounter.fit.wear.wear_calendar import make_plan, not_today, record_wear
from fitcounter.fit.wear.wear_changes import go_on, put_on_hold, start_again


@pytest.fixture
def plan():
    """Three short wears, fetched on 1 June."""
    return fetched()


def test_a_wear_not_recorded_by_the_end_of_its_day_is_missed_and_all_after_it_move(plan):
    """Until midnight it can be told; a minute later it and all after it have moved by a day, the
    missed one stays in the log.
    """
    first = worn(plan, 1, 1)
    assert move_missed(first, at(2, 23, 59)) == first
    later = move_missed(first, at(3, 0))
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
    back = move_missed(plan, at(20, 12))
    assert days(back) == [20, 21, 22]
    assert days(back, "missed") == [1]
    assert back.ordinary_from == june(23)


def test_looking_every_hour_or_once_gives_the_same_plan(plan):
    """Whoever looks at the page, and how often, changes nothing."""
    often = plan
    for hours in range(24 * 9):
        often = move_missed(often, at(1, 12) + timedelta(hours=hours))
    assert often == move_missed(plan, at(1, 12) + timedelta(hours=24 * 9 - 1))


def test_a_wear_across_midnight_is_missed_only_until_it_is_told():
    """23:45 to 00:15: at midnight its day is over, at a quarter past she tells it, and the plan is
    the one it was.
    """
    plan = make_plan(at(1, 10), clock(MADRID, 23, 45), THREE)
    midnight = move_missed(plan, at(2, 0))
    assert days(midnight, "missed") == [1]
    assert record_wear(midnight, 1, at(1, 23, 45), 30, at(2, 0, 15)) == record_wear(
        plan, 1, at(1, 23, 45), 30, at(2, 0, 15)
    )


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
    after = move_missed(not_today(plan, 1, at(1, 12)), at(3, 12))
    assert [(wear.local_day.day, wear.state) for wear in after.closed] == [
        (1, "moved"),
        (2, "missed"),
    ]
    assert days(after) == [3, 4, 5]


def test_a_missed_growing_wear_is_due_the_next_day_because_nothing_was_worn():
    """A free day lies between two wears, not between a wear and one that was missed or put off."""
    plan = make_plan(at(1, 10), clock(MADRID, 18, 0), GROWING)
    assert days(move_missed(plan, at(2, 12)))[:2] == [2, 4]
    assert days(not_today(plan, 1, at(1, 12)))[:2] == [2, 4]


def test_a_missed_strict_wear_starts_at_her_hour_the_next_day():
    """There is no taking off to count the rest from."""
    plan = make_plan(at(1, 10), clock(MADRID, 18, 0), replace(THREE, rest_from="end"))
    assert move_missed(plan, at(2, 12)).to_come[0].start == at(2, 18)


def test_days_missed_around_a_wear_for_fun_are_one_entry(plan):
    """The first step missed on the first, an extra wear on the second, missed again on the third:
    still the same step missed.
    """
    extra = record_wear(move_missed(plan, at(2, 9)), EXTRA, at(2, 12), 30, at(2, 13))
    assert [
        (wear.n, wear.local_day.day, wear.state) for wear in move_missed(extra, at(5, 9)).closed
    ] == [
        (1, 1, "missed"),
        (EXTRA, 2, "worn"),
    ]


def all_missed(plan, now):
    """Days of the month of every missed day at that moment."""
    log = every_missed_day(move_missed(plan, now), now)
    return [wear.local_day.day for wear in log if wear.state == "missed"]


def test_each_day_missed_in_a_row_is_there_to_be_told_for_two_weeks(plan):
    """The first is always there, as it is kept."""
    assert all_missed(plan, at(8, 12)) == [1, 2, 3, 4, 5, 6, 7]
    assert all_missed(plan, at(20, 12)) == [1, *range(6, 20)]


def test_no_day_on_hold_is_missed(plan):
    """Held on the third, let go on from the sixth: what was missed since then is missed."""
    held = put_on_hold(plan, at(3, 12))
    assert all_missed(held, at(5, 12)) == [1, 2]
    assert all_missed(go_on(held, june(6), at(5, 12)), at(9, 12)) == [1, 6, 7, 8]


def test_a_day_on_which_they_were_worn_for_fun_is_not_missed_nor_is_the_free_day_after_it(plan):
    fun = record_wear(move_missed(plan, at(2, 9)), EXTRA, at(3, 12), 30, at(3, 13))
    assert all_missed(fun, at(6, 9)) == [1, 2, 4, 5]
    growing = make_plan(at(1, 10), clock(MADRID, 18, 0), GROWING)
    fun = record_wear(growing, EXTRA, at(3, 12), 30, at(3, 13))
    assert all_missed(fun, at(6, 9)) == [1, 2, 5]


def test_what_is_told_of_the_days_before_a_new_beginning_does_not_bring_it_there(plan):
    again = start_again(plan, at(9, 12))
    assert days(record_wear(again, EXTRA, at(4, 18), 30, at(9, 13))) == [9, 10, 11]
    assert all_missed(record_wear(again, EXTRA, at(4, 18), 30, at(9, 13)), at(9, 13)) == [
        *(1, 2, 3),
        *(5, 6, 7, 8),
    ]
