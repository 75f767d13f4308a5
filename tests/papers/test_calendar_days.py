"""The days of a wearing-in calendar as lines: wears, whole rests together, and what follows."""

from __future__ import annotations

from dataclasses import replace
from datetime import UTC, date, datetime, timedelta

import pytest

from fitcounter.papers import calendar_days
from fitcounter.papers.calendar_days import DayLine
from fitcounter.papers.calendar_records import CalendarSheet, WearLine
from fitcounter.papers.html import in_english


def wear(n: int, day: int, state: str = "planned", minutes: int = 30) -> WearLine:
    start = datetime.fromisoformat("2026-04-01T18:00") + timedelta(days=day - 1)
    end = start + timedelta(minutes=minutes)
    return WearLine(n, start, end, minutes, state, f"Wear {n}")  # type: ignore[arg-type]


SHEET = CalendarSheet(
    "Quillmarsh Leather Bench",
    "555 0142",
    "Marisol",
    "en_US",
    "America/New_York",
    "6f1c2a",
    0,
    datetime(2026, 4, 1, tzinfo=UTC),
    (wear(1, 1), wear(2, 4)),
    date(2026, 4, 6),
    date(2026, 4, 7),
    None,
    {"ordinary": "Out", "ordinary_more": "", "whole_day": "A whole day", "whole_day_more": ""},
    (),
)


def lines(**changes: object) -> tuple[DayLine, ...]:
    return calendar_days.day_lines(replace(SHEET, **changes), in_english)  # type: ignore[arg-type]


def test_days_without_boots_are_one_line_between_two_wears() -> None:
    assert [(line.state, line.date_words) for line in lines()] == [
        ("planned", "Apr 1"),
        ("rest", "Apr 2 – Apr 3"),
        ("planned", "Apr 4"),
        ("rest", "Apr 5"),
        ("ordinary", "Apr 6"),
        ("whole-day", "Apr 7"),
    ]
    assert lines()[1].weekday == "Thu–Fri"


@pytest.mark.parametrize(
    ("state", "detail"),
    [
        ("planned", "6:00 PM to 6:30 PM"),
        ("worn", "You wore them 30 minutes, from 6:00 PM"),
        ("missed", "Not worn. That’s fine: moved to Saturday"),
        ("moved", "Moved to Saturday"),
        ("off", "Canceled"),
    ],
)
def test_a_wear_says_what_became_of_it_and_only_a_planned_one_still_starts(
    state: str, detail: str
) -> None:
    line = lines(wears=(wear(1, 1, state), wear(1, 4)))[0]
    assert line.detail == detail
    assert (line.starts is not None) is (state == "planned")


def test_days_missed_in_a_row_go_to_the_next_try_and_are_one_line_where_none_can_be_told() -> None:
    row = lines(
        wears=(wear(1, 1, "missed"), wear(1, 2, "missed"), wear(1, 3, "missed"), wear(1, 4))
    )
    assert {line.detail for line in row[:3]} == {"Not worn. That’s fine: moved to Saturday"}
    assert [line.put_on for line in row[:3]] == ["18:00"] * 3
    weeks = lines(wears=(wear(1, 1, "missed"), wear(1, 2, "missed"), wear(1, 8)))
    assert weeks[0].detail == "Not worn. That’s fine: moved to Wednesday, Apr 8"
    assert weeks[1].detail == "Not worn. That’s fine: moved to Wednesday"
    together = calendar_days.missed_together(row)
    assert [(one.state, one.weekday, one.date_words) for one in together[:2]] == [
        ("missed", "Wed–Fri", "Apr 1 – Apr 3"),
        ("planned", "Sat", "Apr 4"),
    ]
    assert together[2:] == row[4:]


@pytest.mark.parametrize(("hour", "is_said"), [(6, False), (7, True), (21, True), (22, False)])
def test_later_is_not_into_the_night_where_no_hour_at_night_was_chosen(
    hour: int, is_said: bool
) -> None:
    """A paper cannot ask "start all the same?" as the page does."""
    one = wear(1, 1)
    one = replace(one, start_local=one.start_local.replace(hour=hour))
    said = calendar_days.when_on(lines(wears=(one,)), in_english)
    assert ("not into the night" in said) is is_said


def test_hours_are_those_of_the_shop_where_it_says_which() -> None:
    shown = (lines(wears=(wear(1, 1),), hours=one)[0].detail for one in ("12", "24"))
    assert tuple(shown) == ("6:00 PM to 6:30 PM", "18:00 to 18:30")


def test_a_wear_over_which_the_clocks_change_says_so() -> None:
    shown = replace(wear(1, 1), minutes=90)
    assert lines(wears=(shown,))[0].detail == "6:00 PM to 6:30 PM, the clocks change"


def test_a_plan_that_was_called_off_promises_no_day() -> None:
    off = lines(wears=(wear(1, 1, "off"), wear(2, 4, "off")))
    assert [line.state for line in off] == ["off", "rest", "off"]


def test_more_lines_than_a_page_holds_lose_their_rests_and_then_the_oldest() -> None:
    every_other = tuple(wear(n, 2 * n) for n in range(1, 31))
    kept = lines(wears=every_other)
    assert "rest" not in {line.state for line in kept}
    assert len(kept) == 32
    very_long = lines(wears=tuple(wear(n, 2 * n) for n in range(1, 60)))
    assert len(very_long) == 48
    assert very_long[0].title == "Earlier days are not shown here."
    assert [line.state for line in very_long[-2:]] == ["ordinary", "whole-day"]


def test_more_lines_are_set_closer() -> None:
    (line, *_) = lines()
    assert [calendar_days.density((line,) * count) for count in (5, 6, 9, 10)] == [
        "roomy",
        "normal",
        "normal",
        "close",
    ]


def test_the_cautions_send_her_to_a_doctor_and_call_themselves_general() -> None:
    said = calendar_days.cautions(in_english)
    assert "can be a clot: get medical advice today" in said[0]
    assert said[-1] == "This is the shop's general advice, not medical advice."
