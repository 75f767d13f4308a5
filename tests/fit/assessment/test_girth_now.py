"""Each height of a boot as it is now, and its tightest place."""

from __future__ import annotations

import pytest

from fitcounter.fit.assessment.girth_now import PlaceNow, places_now, room_of, tightest
from fitcounter.fit.assessment.need import Place
from fitcounter.fit.handbook.leg import TIE, TOLERANCE_MM
from fitcounter.fit.handbook.load import SAME_STRAIN


def place(height_mm: float, need_mm: float, leather_mm: float = 350.0) -> Place:
    return Place(height_mm, None, None, 400.0, leather_mm, need_mm, 2.0)


def test_growth_is_shared_by_need_and_no_height_grows_more_than_the_tightest() -> None:
    """The tightest is the largest share of its leather: at 300 mm, where little of it is leather.
    At 200 mm more is missing, and it grows as much, not more.
    """
    first = (place(150, 6), place(200, 24), place(300, 20, leather_mm=200), place(350, -4))
    now = places_now(first, 10.0)
    assert [one.share for one in now] == [pytest.approx(0.3), 1.0, 1.0, 0.0]
    assert [one.girth_mm for one in now] == pytest.approx([403, 410, 410, 400])
    assert [one.need_mm for one in now] == pytest.approx([3, 14, 10, -4])


def test_the_tightest_place_is_the_lower_of_two_as_tight() -> None:
    now = places_now((place(150, 20), place(200, 20)), 0.0)
    assert tightest(now).height_mm == 150
    assert tightest(places_now((place(150, 1), place(200, 1)), 0.0)).height_mm == 150


def test_room_is_told_at_the_lower_of_two_heights_as_wide() -> None:
    now = places_now((place(150, -20), place(200, -20), place(250, 10)), 0.0)
    room = room_of(now)
    assert room is not None
    assert (room.most_mm, room.height_mm, room.everywhere) == (20, 150, False)
    assert room_of(places_now((place(150, -3.1),), 0.0)) is None


def test_an_eighth_of_an_inch_too_wide_is_room_already() -> None:
    """At the tolerance itself, at one height and at all of them."""
    room = room_of(places_now((place(150, -TOLERANCE_MM), place(200, -9)), 0.0))
    assert room is not None
    assert (room.most_mm, room.height_mm, room.everywhere) == (9, 200, True)
    alone = room_of(places_now((place(150, -TOLERANCE_MM),), 0.0))
    assert alone is not None
    assert (alone.most_mm, alone.everywhere) == (TOLERANCE_MM, True)
    nearly = room_of(places_now((place(150, -TOLERANCE_MM + 0.01), place(200, -9)), 0.0))
    assert nearly is not None
    assert not nearly.everywhere


def test_an_eighth_of_an_inch_is_not_short_and_a_hundredth_more_is() -> None:
    now = places_now((place(150, TOLERANCE_MM), place(200, TOLERANCE_MM + 0.01)), 0.0)
    assert [each.short for each in now] == [False, True]


def test_growth_reaches_a_height_that_lacks_a_hair_by_its_share_too() -> None:
    """Half a millimetre of five; and where nothing is short, half of four fifths."""
    assert [each.share for each in places_now((place(150, 0.5), place(200, 5)), 1.0)] == [
        pytest.approx(0.1),
        1.0,
    ]
    assert [each.share for each in places_now((place(150, 0.4), place(200, 0.8)), 1.0)] == [
        pytest.approx(0.5),
        1.0,
    ]
    assert [each.share for each in places_now((place(150, 0), place(200, -1)), 1.0)] == [1.0, 0.0]


def test_strain_is_need_over_the_leather_and_in_all_from_the_boot_as_first_brought_in() -> None:
    """20 of 200 mm short, 10 of them grown: 5 per cent to go, 10 in all; the leather is 210 now."""
    (now,) = places_now((place(300, 20, leather_mm=200),), 10.0)
    assert (now.strain, now.strain_total) == (pytest.approx(0.05), pytest.approx(0.10))
    assert now.leather_mm == pytest.approx(210)
    assert PlaceNow(now.first, 400, 20).share == 1


def test_where_nothing_is_short_the_tightest_place_is_that_of_most_need() -> None:
    """Whatever of it is leather."""
    now = places_now((place(150, 1, leather_mm=100), place(200, 3), place(250, -5)), 0.0)
    assert tightest(now).height_mm == 200


def test_a_difference_that_counts_as_none_does_so_itself_included() -> None:
    """Short, room and the tightest place, each at its edge and a hundredth past it."""
    assert not PlaceNow(place(150, 0), 400, TOLERANCE_MM + TIE).short
    edge = -TOLERANCE_MM + TIE
    room = room_of(places_now((place(150, edge),), 0.0))
    assert room is not None
    assert room.everywhere
    lower = room_of(places_now((place(150, -9 + TIE), place(200, -9)), 0.0))
    assert lower is not None
    assert lower.height_mm == 150
    assert tightest(places_now((place(150, 3 - TIE), place(200, 3)), 0.0)).height_mm == 150
    assert tightest(places_now((place(150, 2.99), place(200, 3)), 0.0)).height_mm == 200


def test_two_strains_alike_to_the_last_figure_that_counts_are_one() -> None:
    """A sixteenth of 64 mm of leather, less what counts as none."""
    alike = (place(150, (0.0625 - SAME_STRAIN) * 64, 64), place(200, 4, 64))
    assert tightest(places_now(alike, 0.0)).height_mm == 150
    apart = (place(150, (0.0625 - 2 * SAME_STRAIN) * 64, 64), place(200, 4, 64))
    assert tightest(places_now(apart, 0.0)).height_mm == 200
