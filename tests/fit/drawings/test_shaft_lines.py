"""Where a boot is short, as stretches of its height."""

from __future__ import annotations

from fitcounter.fit.drawings.shaft_lines import ShaftPoint, short_runs


def test_a_crossing_between_two_heights_ends_the_short_stretch() -> None:
    """Between a short place and one with room the stretch ends where a straight line crosses
    nought.
    """
    places = [
        ShaftPoint(100, None, -10),
        ShaftPoint(200, None, 10),
        ShaftPoint(300, None, 10),
        ShaftPoint(400, None, -30),
        ShaftPoint(500, None, 5),
    ]
    assert short_runs(places) == [
        ((150, 0.0), (200, 10), (300, 10), (325, 0.0)),
        ((400 + 100 * 30 / 35, 0.0), (500, 5)),
    ]


def test_a_stretch_ends_at_the_height_where_nothing_is_missing() -> None:
    """A height that is just wide enough closes the stretch there, and another one may begin from
    it.
    """
    places = [ShaftPoint(100, None, 10), ShaftPoint(200, None, 0), ShaftPoint(300, None, 4)]
    assert short_runs(places) == [((100, 10), (200.0, 0.0)), ((200.0, 0.0), (300, 4))]
