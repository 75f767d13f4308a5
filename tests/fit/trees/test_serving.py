"""The one test of what fits: what is ranked is never kept off, and what is kept off is so at every
opening.
"""

from __future__ import annotations

from dataclasses import replace
from random import Random

import pytest

from fitcounter.fit.assessment.profile import Profile
from fitcounter.fit.trees.calibration import CalibrationPoint
from fitcounter.fit.trees.choice import rank_trees
from fitcounter.fit.trees.limits import PullLimit, Wanted
from fitcounter.fit.trees.serving import Tree, why_kept_off, why_kept_off_girth, why_not_so_far

HEIGHTS = (120.0, 200.0, 280.0, 360.0)


def random_wanted(random: Random) -> Wanted:
    boot = Profile.straight((height, random.uniform(300, 370)) for height in HEIGHTS)
    at_mm = random.choice(HEIGHTS)
    return Wanted(
        side="left",
        at_mm=at_mm,
        girth_mm=boot.at(at_mm) + random.uniform(2, 30),
        boot=boot,
        first=boot,
        leather0_mm=lambda height_mm: 300.0,
        round_share=0.08,
        ceiling_share=0.15,
        kept=0.5,
        holds=(PullLimit("seam", 0.07), PullLimit("zip", 0.05, 150.0, 300.0)),
        unit="mm",
    )


def random_tree(random: Random, label: str) -> Tree:
    closed = random.uniform(270, 340)
    points = [
        CalibrationPoint(share, height, closed - narrower + share * wider, "", "tape")
        for height in HEIGHTS
        for narrower, wider in [(random.uniform(0, 60), random.uniform(20, 90))]
        for share in (0.0, 1.0)
    ]
    return Tree(label, "left", None, points=tuple(points), shift_most_mm=random.choice([0.0, 20.0]))


@pytest.mark.parametrize("seed", range(150))
def test_what_is_ranked_goes_on_and_may_be_opened_as_wanted_or_less(seed: int) -> None:
    """A tree that is ranked is not kept off, nor at any opening up to the wanted one."""
    random = Random(seed)
    wanted = random_wanted(random)
    trees = {label: random_tree(random, label) for label in "ABCDEFGH"}
    now_mm = wanted.boot.at(wanted.at_mm)
    for choice in rank_trees(trees.values(), wanted)[0]:
        tree = trees[choice.label]
        assert why_kept_off(tree, wanted) == ""
        for part in (0.25, 0.6, 1.0):
            less = replace(wanted, girth_mm=now_mm + part * (wanted.girth_mm - now_mm))
            assert why_not_so_far(tree, less, choice.pads, choice.shift_mm) == ""


@pytest.mark.parametrize("seed", range(150))
def test_what_is_kept_off_is_kept_off_however_far_it_is_to_be_opened(seed: int) -> None:
    """Kept off at the least opening, a tree is ranked for no larger one; and a limit that is passed
    for a reason keeps it off no longer.
    """
    random = Random(seed)
    wanted = random_wanted(random)
    now_mm = wanted.boot.at(wanted.at_mm)
    tree = random_tree(random, "A")
    if why := why_kept_off(tree, wanted):
        for more_mm in (2.0, 8.0, 25.0):
            assert rank_trees([tree], replace(wanted, girth_mm=now_mm + more_mm))[0] == ()
    by_size = why_kept_off(tree, wanted, limits=False)
    assert not by_size or (why and ("too big" in by_size.lower() or "too small" in by_size))


@pytest.mark.parametrize(
    ("closed_mm", "open_mm", "words"),
    [
        (351.0, 400.0, "is too big for this boot: 351 mm closed. The boot is 350 mm inside."),
        (300.0, 350.0, "is too small: 350 mm wide open. The boot is 350 mm inside already."),
        (350.0, 351.0, ""),
        (None, None, ""),
    ],
)
def test_one_girth_is_held_against_both_ends_of_a_tree(
    closed_mm: float | None, open_mm: float | None, words: str
) -> None:
    tree = Tree("7", "left", None, closed_mm=closed_mm, open_mm=open_mm)
    assert why_kept_off_girth(tree, 350.0, "mm") == (words and f"Tree 7 {words}")


def test_a_tree_known_by_size_alone_that_opens_no_wider_than_the_boot_is_ranked_for_none() -> None:
    """Not even where nothing is wanted beyond the girth it has: it would only fill the boot."""
    boot = Profile.straight((height, 360.0) for height in HEIGHTS)
    wanted = replace(random_wanted(Random(1)), boot=boot, first=boot, girth_mm=360.0)
    choices, rejected = rank_trees([Tree("A", "left", None, open_mm=360.0)], wanted)
    assert choices == ()
    assert "too small" in rejected[0].sentence


def test_nothing_is_said_against_an_opening_of_a_tree_that_was_not_measured_so() -> None:
    """With pads it was never read with, or where its readings end below the asked height."""
    points = [
        CalibrationPoint(share, height, 300 + 150 * share, "", "tape")
        for height in HEIGHTS
        for share in (0.0, 1.0)
    ]
    tree = Tree("A", "left", None, points=tuple(points))
    wanted = replace(random_wanted(Random(3)), girth_mm=450.0)
    assert why_not_so_far(tree, wanted, "", 0.0) != ""
    assert why_not_so_far(tree, wanted, "thick", 0.0) == ""
    low = replace(tree, points=tuple(one for one in tree.points if one.height_mm < 250))
    assert why_not_so_far(low, replace(wanted, at_mm=360.0), "", 0.0) == ""
