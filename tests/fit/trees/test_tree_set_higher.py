"""A tree set higher or lower in the boot: which shifts are tried, and which one is proposed."""

from __future__ import annotations

from dataclasses import replace

from fit.trees.tree_and_boot import EVEN, TURNS, WANTED, points, ranked, sentence

from fitcounter.fit.assessment.profile import Profile
from fitcounter.fit.trees.serving import Tree

# A sleeve of 360 mm, to be opened to 370 at 300 mm by a tree that bulges somewhere.
SLEEVE = Profile.straight([(100, 360), (400, 360)])
OPENED = replace(
    WANTED,
    at_mm=300,
    boot=SLEEVE,
    first=SLEEVE,
    leather0_mm=lambda _: 330.0,
    round_share=0.5,
    ceiling_share=0.5,
    need=Profile.straight([(100, 0), (295, 0), (300, 12), (305, 0), (400, 0)]),
    unit="in",
)


def bulging(height: float, most: float, shift_most_mm: float = 0.0) -> Tree:
    girths = points((50, 330, 345), (height, 330, most), (450, 330, 345))
    return Tree("b", "left", "M", scale=TURNS, points=girths, shift_most_mm=shift_most_mm)


def test_a_tree_too_narrow_where_it_sits_serves_where_it_may_sit_higher() -> None:
    """Fullest at 275 mm it is 385 there; 384 at 300 it is only an inch higher up."""
    wanted = replace(OPENED, girth_mm=384, need=None, kept=0.3)
    assert "short of the 15⅛ in wanted" in sentence(bulging(275, 385), wanted)
    assert "short of" in sentence(bulging(275, 385, 12.7), wanted)
    assert [choice.shift_mm for choice in ranked(bulging(275, 385, 25.4), wanted=wanted)] == [25.4]


def test_shifts_go_from_none_outwards_up_before_down_in_the_steps_of_the_unit() -> None:
    tree = replace(EVEN, shift_most_mm=25.4)
    assert tree.shifts_mm("in") == (0, 12.7, -12.7, 25.4, -25.4)
    assert tree.shifts_mm("mm") == (0, 10, -10, 20, -20)
    assert EVEN.shifts_mm("in") == (0,)
    assert Tree("new", "left", "M").shift_most_mm == 0
    assert replace(EVEN, shift_most_mm=12.6).shifts_mm("in") == (0,)
    assert max(replace(EVEN, shift_most_mm=80).shifts_mm("cm")) == 50


def test_where_shifts_serve_alike_the_smaller_one_is_named_then_up() -> None:
    """A tree of one girth all the way is the same wherever it sits; one that bulges in the middle
    is the same as far above as below.
    """
    even = replace(EVEN, points=points((0, 330, 400), (450, 330, 400)), shift_most_mm=50)
    assert ranked(even, wanted=OPENED)[0].shift_mm == 0
    twice = points((100, 330, 345), (287.3, 330, 400), (300, 330, 345), (312.7, 330, 400))
    two = replace(EVEN, points=(*twice, *points((450, 330, 345))), shift_most_mm=12.7)
    both = replace(OPENED, need=Profile.straight([(100, 60), (400, 60)]))
    assert ranked(two, wanted=both)[0].shift_mm == 12.7


def test_a_shift_that_leaves_the_boot_less_loose_is_proposed() -> None:
    """Its bulge under the asked height loosens the boot there by half of 16 mm, where nothing is
    short; an inch higher it sits where the boot is to grow.
    """
    assert "looser than wanted" in sentence(bulging(270, 400), OPENED)
    (choice,) = ranked(bulging(270, 400, 25.4), wanted=OPENED)
    assert choice.shift_mm == 25.4
    assert choice.worst_looseness_mm is not None
    assert 0 < choice.worst_looseness_mm <= 6


def test_a_shift_past_what_the_tree_was_measured_at_is_not_tried() -> None:
    """Rejected as it usually sits, it is rejected, not "not measured yet"."""
    big = replace(EVEN, points=points((100, 340, 380), (410, 370, 390)), shift_most_mm=50)
    assert "Too big for this boot" in sentence(big)
