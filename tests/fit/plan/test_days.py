"""Open days as numbers from today."""

from __future__ import annotations

from datetime import date, timedelta

import pytest

from fitcounter.errors import BadInput
from fitcounter.fit.plan.days import OpenDays, day_table

TODAY = date(2026, 11, 25)  # a Wednesday


def test_closed_days_days_away_and_closed_weekdays_are_not_open() -> None:
    """Open Monday to Friday; Thanksgiving shut; away from Monday to Wednesday, both included."""
    days = OpenDays(
        TODAY,
        frozenset(range(5)),
        frozenset({date(2026, 11, 26)}),
        ((date(2026, 11, 30), date(2026, 12, 2)),),
    )

    opened = [day for day in range(10) if days.is_open(TODAY + timedelta(days=day))]

    assert opened == [0, 2, 8, 9]


def test_the_table_finds_the_next_and_the_last_open_day() -> None:
    """From Saturday on it is Monday; up to Sunday it is Friday."""
    table = day_table(OpenDays(TODAY, frozenset(range(5))))

    assert [table.open_from(day) for day in (0, 2, 3, 4, 5)] == [0, 2, 5, 5, 5]
    assert [table.open_until(day) for day in (0, 2, 3, 4, 5)] == [0, 2, 2, 2, 5]
    assert table.open_mask & 0b1111111 == 0b1100111


def test_before_the_first_open_day_there_is_no_last_open_day_but_today() -> None:
    """Opened on Fridays only: up to Thursday nothing was open, and the table says 0."""
    table = day_table(OpenDays(TODAY, frozenset({4})))

    assert table.open_until(1) == 0


def test_days_gone_by_count_as_today_and_days_past_the_table_as_never() -> None:
    """The plan has no past; ten years on is as good as never."""
    table = day_table(OpenDays(TODAY, frozenset(range(7))))

    assert table.number(date(2026, 11, 1)) == 0
    assert table.number(date(2036, 11, 25)) == table.never
    assert table.open_from(table.never + 5) == table.never
    assert table.date(table.number(date(2026, 12, 24))) == date(2026, 12, 24)


@pytest.mark.parametrize("weekdays", [frozenset(), frozenset({7})])
def test_a_bench_that_never_opens_is_refused(weekdays: frozenset[int]) -> None:
    """One weekday at least."""
    with pytest.raises(BadInput, match="at least one weekday"):
        OpenDays(TODAY, weekdays)


def test_a_span_away_that_ends_before_it_begins_is_refused() -> None:
    """Most likely the two dates were swapped."""
    with pytest.raises(BadInput, match="is before the first"):
        OpenDays(TODAY, frozenset(range(7)), away=((date(2026, 12, 9), date(2026, 12, 1)),))
