"""A calendar on hold, gone on, moved to another zone, slipped and begun again."""

from __future__ import annotations

from support.wearing_cast import at, days, fetched, june, worn

from fitcounter.fit.wear import wear_changes
from fitcounter.fit.wear.missed_wears import move_missed
from fitcounter.fit.wear.wear_calendar import change_hour, due


def test_days_on_hold_are_not_missed_and_it_goes_on_from_the_day_said():
    held = wear_changes.put_on_hold(worn(fetched(), 1, 1), at(2, 12))
    assert due(held, at(9, 19)).kind == "hold"
    assert move_missed(held, at(9, 19)) == held
    assert wear_changes.put_on_hold(held, at(5, 12)) == held
    on = wear_changes.go_on(held, june(12), at(9, 19))
    assert days(on) == [12, 13]
    assert days(change_hour(on, 20, 0, at(10, 9))) == [12, 13], "another hour brings no earlier day"
    assert on.ordinary_from == june(14)


def test_a_hold_when_all_is_worn_in_puts_ordinary_wear_off_too():
    plan = worn(worn(worn(fetched(), 1, 1), 2, 2), 3, 3)
    on = wear_changes.go_on(wear_changes.put_on_hold(plan, at(4, 9)), june(8), at(5, 9))
    assert (on.ordinary_from, due(on, at(6, 9)).kind) == (june(8), "rest")


def test_a_wear_in_a_night_waits_for_the_evening():
    late = worn(fetched(), 1, 1, hour=22, minute=30)
    assert [wear.start for wear in late.to_come][:1] == [at(3, 18)]


def test_in_another_zone_it_is_the_same_hour_there():
    moved = wear_changes.change_zone(fetched(), "America/New_York", at(1, 11))
    assert moved.to_come[0].start == at(2, 0)


def test_a_week_that_slipped_begins_again_with_what_was_worn_kept():
    plan = worn(fetched(), 1, 1)
    assert not wear_changes.has_slipped(plan, at(8, 19))
    assert wear_changes.has_slipped(plan, at(9, 19))
    again = wear_changes.start_again(plan, at(9, 12))
    assert [(wear.n, wear.state) for wear in again.wears] == [
        (0, "worn"),
        *[(0, "missed")] * 7,
        (1, "planned"),
        (2, "planned"),
        (3, "planned"),
    ]
    assert days(again) == [9, 10, 11]
