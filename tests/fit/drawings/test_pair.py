"""The drawing of a pair against the wanted line: what it shows, and the same in words."""

from __future__ import annotations

import re
from itertools import pairwise
from math import pi

import pytest
from support.drawn_boots import HEIGHTS, INSIDE, SHORT, WIDE, boot, pair

from fitcounter.fit.drawings.outline import SHIN
from fitcounter.fit.drawings.pair import profile_drawing
from fitcounter.fit.drawings.shaft_lines import BootProfile, ShaftPoint, short_runs


def points(path: str) -> list[tuple[float, float]]:
    numbers = [float(text) for text in re.findall(r"-?\d+(?:\.\d+)?", path)]
    return list(zip(numbers[::2], numbers[1::2], strict=True))


def test_the_wanted_line_stands_outside_the_shaft_by_twice_what_is_missing() -> None:
    """At the tightest place the dashed line is WIDER × need ÷ π further back than the shaft, at the
    drawing's own scale.
    """
    drawing, left, right = pair(SHORT, SHORT)
    heights = {text.text: text.y - 4 for text in drawing.heights}
    px_per_mm = (heights["4½"] - heights["14½"]) / 254
    toe_px = 2 + 166 * px_per_mm
    wanted = max(x for x, y in points(left.wanted) if abs(y - heights["10½"]) < 2)
    assert (wanted - toe_px) / px_per_mm == pytest.approx(
        (365.1 + 2 * 28.575) / pi - SHIN.at(266.7), abs=0.6
    )
    mirrored = min(x for x, y in points(right.wanted) if abs(y - heights["10½"]) < 2)
    assert wanted + mirrored == pytest.approx(328, abs=0.2)


def test_only_short_places_are_hatched_and_no_hatch_leaves_them() -> None:
    """Hatching stays between the crossing below the short stretch and its upper end, and inside the
    wanted line.
    """
    drawing, left, _ = pair(SHORT, SHORT)
    heights = {text.text: text.y - 4 for text in drawing.heights}
    ys = [y for _, y in points(left.need)]
    assert min(ys) >= heights["14½"] - 0.2
    assert heights["8½"] <= max(ys) <= heights["6½"]
    assert max(x for x, _ in points(left.need)) < max(x for x, _ in points(left.wanted))


def test_a_boot_that_is_wide_enough_shows_no_need_no_tape_and_no_figure() -> None:
    """The wide boot is drawn plain, and words beside it say that it is wide enough."""
    drawing, left, right = pair(SHORT, WIDE)
    assert (right.need, right.wanted, right.tape, right.figure) == ("", "", "", None)
    assert right.unit.text == "wide enough"
    assert left.figure is not None
    assert drawing.description.endswith("Right boot: wide enough.")


def test_sixteenths_are_handed_over_in_parts_to_be_composed() -> None:
    """A figure with sixteenths carries numerator and denominator apart; an eighth is one
    character.
    """
    _, left, right = pair(
        boot(-1, -1, -1, 26.0, 5, 4, tightest=266.7), boot(-1, -1, -1, 22.1, 5, 4, tightest=266.7)
    )
    assert left.figure
    assert (left.figure.text, left.figure.over, left.figure.under) == ("1", "1", "16")
    assert right.figure
    assert (right.figure.text, right.figure.over) == ("⅞", "")
    assert (left.unit.text, right.unit.text) == ("inches", "inch")


def test_a_shaft_that_was_not_measured_is_dotted_and_the_caption_says_so() -> None:
    """With a gap or an amount there may be no girth: the outline is a plain one, dotted, and only
    the need is exact.
    """
    gap = BootProfile(
        (ShaftPoint(254, None, 12.7), ShaftPoint(304.8, None, 22.3), ShaftPoint(355.6, None, 28.6)),
        355.6,
    )
    drawing = profile_drawing(gap, gap, unit="in")
    assert "not measured" in drawing.caption
    assert drawing.boots[0].unread
    assert drawing.boots[0].need
    assert not drawing.boots[0].zip
    assert all(y > 150 for _, y in points(drawing.boots[0].edge)), "only the foot is a solid line"


def test_what_lies_below_the_lowest_reading_is_dotted() -> None:
    """No solid line runs past the outermost reading of the shaft."""
    three = BootProfile(
        (ShaftPoint(203, 330, 4), ShaftPoint(279.4, 355, 17), ShaftPoint(355.6, 362, 15)), 279.4
    )
    drawing = profile_drawing(three, three, unit="in")
    assert drawing.boots[0].unread
    assert not pair(SHORT, SHORT)[1].unread


def test_everything_stays_on_the_plate_whatever_the_size() -> None:
    """Very wide boots, far too short, still fit the page: nothing is drawn outside the box or over
    the other boot.
    """
    huge = boot(*(150.0,) * 6, tightest=368.3, inside=tuple(g * 1.8 for g in INSIDE))
    drawing, left, right = pair(huge, huge)
    for one, low, high in ((left, 0, 164), (right, 164, 328)):
        for path in (
            one.body,
            one.wanted,
            one.need,
            re.sub(r"H\d+", "", one.tape),
            one.sole,
            one.heel,
        ):
            assert all(low <= x <= high and 0 <= y <= drawing.height_px for x, y in points(path))


def test_heights_are_never_written_over_each_other_and_the_tightest_is_kept() -> None:
    """Crowded heights are thinned, the tightest place's own first."""
    crowded = BootProfile(
        tuple(ShaftPoint(100.0 + 5 * i, 340.0, 10.0) for i in range(50)), 247.65 - 2.65
    )
    drawing = profile_drawing(crowded, crowded, unit="cm")
    ys = sorted(label.y for label in drawing.heights)
    assert all(b - a >= 12.9 for a, b in pairwise(ys))
    assert "24.5" in {label.text for label in drawing.heights}


def test_a_tightest_place_between_two_marks_is_named_as_somebody_would_mark_it() -> None:
    """13, not 13 1⁄32."""
    between = 13.03 * 25.4
    boot = BootProfile(
        (ShaftPoint(203, 330, 4), ShaftPoint(between, 355, 17), ShaftPoint(362, 360, 9)), between
    )
    drawing = profile_drawing(boot, boot, unit="in")
    assert [label.text for label in drawing.heights if label.over == ""] == ["8", "13", "14¼"]


def test_heights_above_the_shaft_are_not_written() -> None:
    """The shop's list may go higher than this boot was read: nothing floats above the drawing."""
    low = BootProfile((ShaftPoint(203, 330, 4), ShaftPoint(279.4, 355, 17)), 279.4)
    drawing = profile_drawing(low, low, unit="in", marks=HEIGHTS)
    assert {label.text for label in drawing.heights} == {"4½", "6½", "8½", "11"}


def test_one_boot_alone_gets_a_plate_of_its_own() -> None:
    """A single boot stands beside its heights on a narrower plate."""
    left, right = profile_drawing(SHORT, None, unit="in"), profile_drawing(None, SHORT, unit="in")
    assert (left.title, right.title) == (
        "The left boot, from the side",
        "The right boot, from the side",
    )
    assert left.width_px == right.width_px < 200
    assert len(left.boots) == 1
    assert right.left_px > 0


def test_left_and_right_swapped_are_mirror_images() -> None:
    """The same boot on the other side is drawn the same, toe the other way."""
    _, left, right = pair(SHORT, SHORT)
    mirrored = [value for x, y in points(left.edge) for value in (328 - x, y)]
    assert mirrored == pytest.approx(
        [value for point in points(right.edge) for value in point], abs=0.11
    )


def test_the_same_boots_are_drawn_the_same_to_the_last_digit() -> None:
    """Same input, same path."""
    assert profile_drawing(SHORT, WIDE, unit="in") == profile_drawing(SHORT, WIDE, unit="in")


def test_a_figure_low_on_the_boot_stands_clear_of_the_foot() -> None:
    """Tightest at the ankle: tape and figure are led up and outward, over the toe."""
    _, low, _ = pair(boot(12, 8, 3, -4, -5, -6, tightest=114.3), WIDE)
    _, high, _ = pair(boot(-9, 9, 3, -4, -5, -6, tightest=165.1), WIDE)
    assert low.figure
    assert high.figure
    assert low.figure.y - high.figure.y < 6


def test_an_amount_at_one_height_alone_is_still_seen() -> None:
    """Half an inch more at 12: one height becomes a band just below it, with its figure."""
    assert short_runs([ShaftPoint(304.8, None, 12.7)]) == [((292.8, 12.7), (304.8, 12.7))]
    drawing = profile_drawing(BootProfile((ShaftPoint(304.8, None, 12.7),), 304.8), WIDE, unit="in")
    assert drawing.boots[0].need
    assert drawing.boots[0].figure
    assert drawing.boots[0].figure.text == "½"
    assert drawing.description.startswith("Left boot: short at about 12 in.")
