"""Curves of the drawn boot."""

from __future__ import annotations

from fitcounter.fit.drawings.outline import smooth


def test_a_curve_needs_two_points() -> None:
    """One point has no line through it."""
    assert smooth([(1, 1)]) == ""
