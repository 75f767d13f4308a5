"""Each height of a boot as it is now, and its tightest place."""

from __future__ import annotations

import pytest

from fitcounter.fit.assessment.girth_now import places_now, room_of, tightest
from fitcounter.fit.assessment.need import Place


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
