"""Curves of the drawn boot."""

from __future__ import annotations

import pytest

from fitcounter.fit.drawings import outline


def test_a_curve_needs_two_points() -> None:
    """One point has no line through it."""
    assert outline.smooth([(1, 1)]) == ""


def test_a_curve_goes_through_every_point_it_is_given() -> None:
    points = [(0.0, 0.0), (10.0, 4.0), (20.0, 2.0)]
    path = outline.smooth(points)
    assert path.startswith("M0 0C")
    assert [curve.split(" ")[-2:] for curve in path.split("C")[1:]] == [["10", "4"], ["20", "2"]]


def test_a_pixel_has_one_decimal_at_most_and_no_minus_before_nought() -> None:
    assert [outline.num(value) for value in (12.0, 12.46, -0.04)] == ["12", "12.5", "0"]


def test_heights_begin_and_end_where_they_are_asked_to() -> None:
    assert outline.steps(100, 131) == pytest.approx([100, 110.3333, 120.6667, 131], abs=1e-3)
    assert outline.steps(100, 101) == [100, 101]


def test_a_boot_with_its_toe_to_the_left_is_the_mirror_of_one_to_the_right() -> None:
    right, left = outline.Pen(100, 200, 0.5, 1), outline.Pen(100, 200, 0.5, -1)
    assert right.at(20, 40) == (110, 180)
    assert left.at(20, 40) == (90, 180)
    assert right.stroke((0, 0), (20, 40)) == "M100 200L110 180"


def test_a_line_over_hardly_any_height_is_not_drawn() -> None:
    pen = outline.Pen(100, 200, 0.5, 1)
    assert pen.along(lambda h: 0.0, 100, 104) == ""
    assert pen.along(lambda h: 0.0, 100, 105).startswith("M100 150")
