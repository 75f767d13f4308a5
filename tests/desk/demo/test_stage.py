"""Days of the story are counted from today, on the shop's own clock."""

from __future__ import annotations

from datetime import date, datetime
from zoneinfo import ZoneInfo

from fitcounter.desk.demo.stage import Stage

ZONE = ZoneInfo("America/New_York")


def test_a_day_of_the_story_is_counted_from_the_shops_today(stage: Stage):
    assert stage.day(-2) == date(2026, 3, 15)
    assert stage.at(-2, "16:20") == datetime(2026, 3, 15, 16, 20, tzinfo=ZONE)
    assert stage.at(-2, "9:05") == datetime(2026, 3, 15, 9, 5, tzinfo=ZONE)


def test_without_an_hour_it_is_when_the_shop_has_opened(stage: Stage):
    assert stage.at(-1) == datetime(2026, 3, 16, 9, 10, tzinfo=ZONE)


def test_nothing_happens_later_than_now(stage: Stage):
    assert stage.at(0, "23:00") == stage.now
    assert stage.at(5) == stage.now


def test_an_act_is_signed_by_the_person_with_those_initials(stage: Stage):
    act = stage.act(-1, "10:00", "BR")
    assert act.staff_id == stage.people["BR"]
    assert act.at == datetime(2026, 3, 16, 10, 0, tzinfo=ZONE)
