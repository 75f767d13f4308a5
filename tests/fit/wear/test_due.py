"""Another hour, a plan called off, and what a moment asks for."""

from dataclasses import replace
from datetime import UTC, datetime, timedelta, timezone

import pytest
from support.wearing_cast import MADRID, THREE, at, days, fetched, june, worn

from fitcounter.fit.wear.missed_wears import move_missed
from fitcounter.fit.wear.rest import clock
from fitcounter.fit.wear.wear_calendar import (
    call_off,
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


def test_another_hour_moves_what_is_to_come_and_nothing_before_today(plan):
    """From six in the evening to half past eight, chosen at noon of the second: the third is the
    first morning with a whole rest.
    """
    after = change_hour(worn(plan, 1, 1), 8, 30, at(2, 12))
    assert (after.hour, after.minute) == (8, 30)
    assert [wear.start for wear in after.to_come] == [at(3, 8, 30), at(4, 8, 30)]
    assert move_missed(after, at(2, 23)) == after
    evening = change_hour(worn(plan, 1, 1), 21, 0, at(2, 12))
    assert [wear.start for wear in evening.to_come] == [at(2, 21), at(3, 21)]


def test_a_later_hour_chosen_the_day_after_pickup_is_not_a_missed_wear():
    """Fetched at seven in the evening, planned for six the next day; at noon she says eight: it is
    today at eight.
    """
    plan = make_plan(at(1, 19), clock(MADRID, 18, 0), THREE)
    after = change_hour(plan, 20, 0, at(2, 12))
    assert after.wears[0].start == at(2, 20)
    assert after.closed == ()


def test_what_is_called_off_stays_in_the_log_and_nothing_is_due(plan):
    """The boots are back in the shop: the wears to come are withdrawn with their days, what was
    worn stays.
    """
    after = call_off(worn(plan, 1, 1), at(2, 12))
    assert [(wear.n, wear.local_day.day, wear.state) for wear in after.wears] == [
        (1, 1, "worn"),
        (2, 2, "off"),
        (3, 3, "off"),
    ]
    assert (after.ordinary_from, after.to_come) == (june(4), ())
    assert due(after, at(4, 12)).kind == "over"
    assert due(after, at(2, 12)).kind == "over"
    assert move_missed(after, at(20, 12)) == after


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
    assert (due(plan, at(1, 18)).kind, due(plan, at(1, 18)).wear, due(plan, at(1, 18)).until) == (
        "wear",
        plan.wears[0],
        None,
    )
    assert due(plan, at(1, 23, 59)).kind == "wear"
    one = worn(plan, 1, 1)
    assert (due(one, at(1, 18, 30)).kind, due(one, at(1, 18, 30)).until) == ("rest", at(2, 18))
    done = worn(worn(one, 2, 2), 3, 3)
    assert (
        due(done, at(3, 23, 59)).kind,
        due(done, at(3, 20)).until,
        due(done, at(3, 20)).wear,
    ) == ("rest", at(4, 0), None)
    assert [
        due(done, at(day, hour)).kind for day, hour in ((4, 0), (4, 23), (5, 0), (5, 23), (6, 0))
    ] == [
        "ordinary",
        "ordinary",
        "whole-day",
        "whole-day",
        "over",
    ]


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
    assert make_plan(
        at(1, 10).astimezone(tokyo), clock(MADRID, 18, 0), THREE, at(1, 9).astimezone(tokyo)
    ) == make_plan(at(1, 10), clock(MADRID, 18, 0), THREE, at(1, 9))


def test_another_hour_before_a_25_hour_day_keeps_the_first_wear_within_24_hours():
    """The cap of the first wear lies before her hour: it is not a rest that ends late, and costs no
    day.
    """
    picked_up = datetime(2026, 10, 31, 22, 1, tzinfo=UTC)
    plan = make_plan(picked_up, clock("America/New_York", 20, 0), THREE)
    after = change_hour(plan, 18, 0, picked_up)
    assert after.wears[0].start == picked_up + timedelta(hours=24)
    next_noon = datetime(2026, 11, 1, 17, tzinfo=UTC)
    early = make_plan(picked_up, clock("America/New_York", 17, 0), THREE)
    assert change_hour(early, 18, 0, next_noon).wears[0].start == picked_up + timedelta(hours=24)


def test_another_hour_for_a_plan_with_nothing_to_come_changes_no_day(plan):
    """All three worn."""
    done = worn(worn(worn(plan, 1, 1), 2, 2), 3, 3)
    assert change_hour(done, 9, 0, at(3, 20)).wears == done.wears


def test_another_hour_in_the_strict_form_starts_today(plan):
    """The first wear is at the new hour; that the second slips by half an hour costs no day."""
    strict = make_plan(at(1, 10), clock(MADRID, 18, 0), replace(THREE, rest_from="end"))
    assert [wear.start for wear in change_hour(strict, 20, 0, at(1, 12)).to_come] == [
        at(1, 20),
        at(2, 20, 30),
        at(3, 21),
    ]


def test_days_missed_and_put_off_on_the_way_do_not_end_it(plan):
    """A day late through "not today" and a day late through forgetting: day six is an outing like
    any day four.
    """
    late = move_missed(not_today(plan, 1, at(1, 12)), at(3, 12))
    done = worn(worn(worn(late, 1, 3), 2, 4), 3, 5)
    assert days(done, "moved", "missed") == [1, 2]
    assert [due(done, at(day, 12)).kind for day in (6, 7, 8)] == ["ordinary", "whole-day", "over"]
