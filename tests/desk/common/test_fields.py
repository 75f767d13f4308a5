"""Days and whole numbers, as people type them."""

from __future__ import annotations

from datetime import date

import pytest

from fitcounter.desk.common.fields import read_day, read_whole
from fitcounter.errors import BadInput

TODAY = date(2026, 3, 17)


@pytest.mark.parametrize(
    "typed",
    [
        "2026-02-30",
        "31/02/2026",
        "03/04/2026",
        "0000-00-00",
        "99999-01-01",
        "tomorrow",
        "20260401",
        "2026-W14-1",
    ],
)
def test_what_is_no_day_is_refused(typed: str):
    with pytest.raises(BadInput, match="year-month-day"):
        read_day(typed, TODAY, "needed_by")


def test_a_day_that_is_over_or_far_off_is_refused():
    with pytest.raises(BadInput, match="has passed"):
        read_day("2026-03-16", TODAY, "needed_by")
    with pytest.raises(BadInput, match="two years"):
        read_day("2028-04-17", TODAY, "needed_by")
    with pytest.raises(BadInput, match="today at the latest"):
        read_day("2026-03-18", TODAY, "since_left", past_ok=True)
    assert read_day("2026-03-17", TODAY, "needed_by") == TODAY
    assert read_day("2026-03-17", TODAY, "since_left", past_ok=True) == TODAY
    assert read_day(" ", TODAY, "needed_by") is None


def test_whole_numbers_are_figures_from_nought_to_nine():
    assert read_whole("4", 1, 6, "rounds", "the goes") == 4
    for typed in ("0", "7", "٣", "-1", "1.0", "1_0", "", "9" * 30):
        with pytest.raises(BadInput, match="the goes"):
            read_whole(typed, 1, 6, "rounds", "the goes")
