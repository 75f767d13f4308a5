"""Repeat readings: one value, agreement, and the doubt that is left."""

from __future__ import annotations

from fractions import Fraction

import pytest
from support.published_cases import Case, cases

from fitcounter.fit import repeats


def exact(readings: list[float]) -> list[Fraction]:
    return [Fraction(str(reading)) for reading in readings]


@pytest.mark.parametrize("case", cases("repeats.json", what="settle"))
def test_repeats_settle_to_itself_the_mean_or_the_median(case: Case) -> None:
    """1 reading, 2 readings, 3 or more."""
    assert repeats.settle(exact(case.given["readings_mm"])) == Fraction(str(case.expected))


@pytest.mark.parametrize("case", cases("repeats.json", what="agree"))
def test_repeats_agree_when_some_two_lie_close(case: Case) -> None:
    """Otherwise a further one is asked for."""
    assert repeats.agree(exact(case.given["readings_mm"]), case.given["within_mm"]) is case.expected


@pytest.mark.parametrize("case", cases("repeats.json", what="doubt"))
def test_the_doubt_of_a_reading_adds_in_squares(case: Case) -> None:
    """Reading, level and resolution."""
    given = case.given
    doubt = repeats.reading_doubt_mm(
        given["reading_mm"],
        given["count"],
        given["slope"],
        given["level_mm"],
        given["resolution_mm"],
    )
    assert doubt == pytest.approx(case.expected, abs=case.tolerance)


def test_an_inch_tape_shows_sixteenths_and_a_metric_one_millimetres() -> None:
    """Resolution by the unit typed."""
    assert [repeats.resolution_mm(unit) for unit in ("in", "cm", "mm")] == [1.5875, 1.0, 1.0]
