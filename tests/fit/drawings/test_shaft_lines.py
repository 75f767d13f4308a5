"""Where a boot is short, as stretches of its height."""

from __future__ import annotations

import pytest

from fitcounter.fit.drawings.outline import PLAIN_MM, SHIN
from fitcounter.fit.drawings.shaft_lines import BootProfile, ShaftLines, ShaftPoint, short_runs


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


def test_a_shaft_is_its_girth_over_pi_wide_and_the_wanted_line_stands_twice_the_need_out() -> None:
    places = tuple(ShaftPoint(h, 314.159, 31.4159) for h in (200, 300))
    lines = ShaftLines(BootProfile(places, 200))
    assert SHIN.at(250) - lines.back(250) == pytest.approx(100, abs=1e-3)
    assert lines.back(250) - lines.wanted(250) == pytest.approx(20, abs=1e-3)


def test_a_boot_that_is_wide_enough_has_no_wanted_line_of_its_own() -> None:
    lines = ShaftLines(BootProfile((ShaftPoint(200, 300, 5), ShaftPoint(300, 300, 5)), None))
    assert lines.runs == []
    assert lines.wanted(250) == lines.back(250)


def test_beyond_the_readings_a_shaft_goes_on_like_a_plain_one_of_its_size() -> None:
    lines = ShaftLines(BootProfile((ShaftPoint(200, 400, 5), ShaftPoint(300, 420, 5)), 300))
    assert lines.girth(350) == pytest.approx(420 * PLAIN_MM.at(350) / PLAIN_MM.at(300))
    unread = ShaftLines(BootProfile((ShaftPoint(200, None, 5),), 200))
    assert unread.girth(250) == PLAIN_MM.at(250)
