"""What is told late puts the days of the calendar right."""

import pytest
from support.wearing_cast import at, days, fetched, worn

from fitcounter.errors import OutOfOrder
from fitcounter.fit.wear.missed_wears import move_missed
from fitcounter.fit.wear.wear_calendar import not_today, record_wear


@pytest.fixture
def plan():
    """Three short wears, fetched on 1 June."""
    return fetched()


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
    missed = move_missed(worn(plan, 1, 1), at(4, 12))
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
    late = move_missed(worn(plan, 1, 1), at(6, 12))
    for n in (2, 3):
        late = record_wear(late, n, at(n, 18), 30, at(6, 12))
    assert late == worn(worn(worn(plan, 1, 1), 2, 2), 3, 3)


def test_a_wear_told_late_in_the_wrong_order_ends_in_the_same_plan(plan):
    """The third before the second: both are kept as said."""
    late = move_missed(worn(plan, 1, 1), at(6, 12))
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
    told = record_wear(move_missed(worn(plan, 1, 1, 12), at(4, 12)), 2, at(1, 23), 30, at(4, 12))
    assert [(wear.n, wear.local_day.day, wear.state) for wear in told.closed] == [
        (1, 1, "worn"),
        (2, 1, "worn"),
        (3, 3, "missed"),
    ]


def test_a_wear_told_for_a_later_day_leaves_the_missed_day_as_it_was(plan):
    """Missed on the second, worn on the third, told on the fourth."""
    told = record_wear(move_missed(worn(plan, 1, 1), at(4, 12)), 2, at(3, 18), 30, at(4, 12))
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
    done = record_wear(move_missed(worn(plan, 1, 1), at(3, 12)), 2, at(3, 18), 30, at(3, 19))
    after = record_wear(done, 2, at(2, 9), 30, at(3, 19))
    assert [(wear.n, wear.local_day.day, wear.state) for wear in after.closed] == [
        (1, 1, "worn"),
        (0, 2, "worn"),
        (2, 2, "missed"),
        (2, 3, "worn"),
    ]
