"""A tree's opening over the shaft: wider where it opens more, one scale for all trees of a page."""

from __future__ import annotations

from fitcounter.fit.drawings.opening import HEIGHT_PX, WIDTH_PX, opening_drawing
from fitcounter.fit.trees.limits import AtHeight

HEIGHTS = (
    AtHeight(100.0, 2.0, 1.0, None),
    AtHeight(200.0, 10.0, 5.0, -2.0),
    AtHeight(300.0, 4.0, 2.0, 0.5),
)


def points(path: str) -> list[tuple[float, float]]:
    """The corners of a path of straight lines."""
    return [
        tuple(float(number) for number in part.split())
        for part in path.lstrip("M").split("L")
        if part
    ]  # type: ignore[misc]


def test_the_widest_opening_reaches_the_edge_and_the_lowest_height_stands_below() -> None:
    """10 mm of 10 reaches the right edge; the lowest height is at the foot of the drawing."""
    drawn = opening_drawing(HEIGHTS, 10.0, "in")
    assert drawn is not None
    corners = points(drawn.opening)

    assert max(x for x, _ in corners) == WIDTH_PX - 10
    assert corners[0][1] == HEIGHT_PX - 10
    assert corners[-1][1] == 10


def test_trees_of_one_page_share_their_scale() -> None:
    """Against a tree that opens twice as far, the same opening is half as wide."""
    alone, beside = (opening_drawing(HEIGHTS, most, "in") for most in (10.0, 20.0))
    assert alone is not None
    assert beside is not None
    assert points(beside.opening)[1][0] - 10 == (points(alone.opening)[1][0] - 10) / 2


def test_the_need_is_drawn_where_it_is_known() -> None:
    """Need is gain less looseness; with one known height there is no line to draw."""
    drawn = opening_drawing(HEIGHTS, 10.0, "in")
    assert drawn is not None
    assert [round(x) for x, _ in points(drawn.need)] == [
        164,
        43,
    ]  # 7 mm and 1.5 mm of 10, over 220 px from 10
    one = opening_drawing((HEIGHTS[0], HEIGHTS[1]), 10.0, "in")
    assert one is not None
    assert one.need == ""


def test_it_says_the_same_in_words() -> None:
    """The description names the widest opening and both ends."""
    drawn = opening_drawing(HEIGHTS, 10.0, "in")
    assert drawn is not None
    assert (
        drawn.description
        == "Opens ⅜ in at 7⅞ in; 1/16 in at the lowest height, 3/16 in at the highest."
    )


def test_nothing_opened_is_no_drawing() -> None:
    """One height, or no opening at all, draws nothing."""
    assert opening_drawing(HEIGHTS[:1], 10.0, "in") is None
    assert opening_drawing(HEIGHTS, 0.0, "in") is None
