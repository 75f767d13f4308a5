"""Which tree serves a round: what it does at every height, and the ranking."""

from __future__ import annotations

from dataclasses import replace

import pytest
from fit.trees.tree_and_boot import EVEN, WANTED, points, ranked

from fitcounter.errors import BadInput
from fitcounter.fit.assessment.profile import Profile
from fitcounter.fit.trees.choice import Choice, rank_trees
from fitcounter.fit.trees.serving import Tree


def test_a_tree_is_turned_until_it_measures_the_wanted_girth_at_the_asked_height() -> None:
    """345 + u·50 = 370 at 400 mm: half way, 10 of 20 turns, 25 mm of room left."""
    choice = ranked(EVEN)[0]

    assert (choice.share, choice.setting, choice.room_left_mm) == (0.5, 10, 25)
    assert choice.note == ""


def test_what_it_does_is_known_at_every_height() -> None:
    """Every 5 mm: at 400 it opens 10 and 5 stay, 7 short of need; at 250 it measures 320 in a boot
    of 330: nothing.
    """
    by_height = {effect.height_mm: effect for effect in ranked(EVEN)[0].heights}

    assert sorted(by_height) == [100 + 5 * step for step in range(61)]
    assert (by_height[400].opening_mm, by_height[400].gain_mm, by_height[400].looseness_mm) == (
        10,
        5,
        -7,
    )
    assert (by_height[250].opening_mm, by_height[250].gain_mm, by_height[250].looseness_mm) == (
        0,
        0,
        0,
    )


def test_an_asked_height_between_the_steps_is_looked_at_too() -> None:
    """The tight place is at 393 mm."""
    choice = ranked(EVEN, wanted=replace(WANTED, at_mm=393, girth_mm=362))[0]

    assert 393 in [effect.height_mm for effect in choice.heights]


def test_the_tree_that_leaves_the_boot_least_loose_comes_first_then_the_one_with_most_room() -> (
    None
):
    """A tree that also opens the ankle by 4 mm ranks behind two that do not; of those, the one with
    more room is first.
    """
    loose = replace(
        EVEN, label="loose", points=points((100, 244, 284), (250, 300, 340), (400, 345, 395))
    )
    roomy = replace(
        EVEN, label="roomy", points=points((100, 240, 280), (250, 300, 340), (400, 345, 415))
    )

    choices = ranked(loose, EVEN, roomy)

    assert [choice.label for choice in choices] == ["roomy", "even", "loose"]
    assert choices[2].worst_looseness_mm == pytest.approx(2)
    assert choices[2].worst_at_mm == 100
    assert choices[0].worst_looseness_mm == 0


def test_no_looseness_at_all_comes_before_half_a_millimetre() -> None:
    """Whatever the room: a tree that opens the ankle by 1 mm, of which half stays, is second."""
    hair = replace(
        EVEN, label="hair", points=points((100, 241, 281), (250, 300, 340), (400, 345, 395))
    )
    choices = ranked(hair, EVEN)
    assert [choice.label for choice in choices] == ["even", "hair"]
    assert [choice.worst_looseness_mm for choice in choices] == [0, pytest.approx(0.5)]


def test_half_a_millimetre_of_room_comes_before_none() -> None:
    """Of trees that leave the boot as little loose."""
    none, half = (
        replace(EVEN, label=label, points=points((100, 240, 250), (250, 300, 325), (400, 345, top)))
        for label, top in (("none", 370), ("half", 370.5))
    )
    choices = ranked(none, half)
    assert [(choice.label, choice.room_left_mm) for choice in choices] == [
        ("half", 0.5),
        ("none", 0),
    ]


def test_where_no_need_is_known_only_heights_beyond_the_hands_breadth_count() -> None:
    """Half an inch more was asked for at 250: from 190 to 310 the opening is wanted, at 185 and 315
    it is looseness.
    """
    tree = replace(EVEN, points=points((100, 240, 300), (250, 310, 370), (400, 345, 405)))
    asked = replace(WANTED, at_mm=250, girth_mm=336, need=None)

    by_height = {
        effect.height_mm: effect.looseness_mm for effect in ranked(tree, wanted=asked)[0].heights
    }

    assert by_height[190] is None
    assert by_height[310] is None
    assert by_height[185] is not None
    assert by_height[315] is not None


def test_need_counts_at_both_ends_of_where_it_is_known() -> None:
    """Need is known from 350 to 400, and all of that lies near the asked height: it counts there,
    and 5 mm below it does not.
    """
    wanted = replace(WANTED, need=Profile.straight([(350, 4), (400, 12)]))

    by_height = {
        effect.height_mm: effect.looseness_mm for effect in ranked(EVEN, wanted=wanted)[0].heights
    }

    assert by_height[350] == pytest.approx(10 / 3 * 0.5 - 4)
    assert by_height[400] == -7
    assert by_height[345] is None


def test_the_asked_height_may_be_the_lowest_or_highest_one_of_a_tree() -> None:
    """A tree measured from the asked height up or down serves there."""
    low = replace(WANTED, at_mm=250, girth_mm=336, need=None)
    up = replace(EVEN, points=points((250, 310, 370), (400, 345, 400)))

    assert ranked(up, wanted=low)[0].note == ""
    assert ranked(EVEN)[0].note == ""


def test_where_no_height_counts_nothing_is_loose() -> None:
    """A tree measured over the asked place alone: no worst height to name."""
    tree = replace(EVEN, points=points((230, 300, 360), (270, 310, 370)))

    choice = ranked(tree, wanted=replace(WANTED, at_mm=250, girth_mm=336, need=None))[0]

    assert (choice.worst_looseness_mm, choice.worst_at_mm) == (0, None)


def test_a_tree_not_measured_is_ranked_last() -> None:
    """Usable from label, side and size: behind every measured one, with its note."""
    choices = ranked(Tree("new", "left", "M"), EVEN)

    assert [(choice.label, choice.note) for choice in choices] == [
        ("even", ""),
        ("new", "not measured yet"),
    ]
    assert choices[1] == Choice("new", note="not measured yet")
    assert choices[1].shift_mm == 0


def test_a_tree_measured_elsewhere_only_is_ranked_last_with_what_is_missing() -> None:
    """Its readings end at 300 mm, 400 is asked."""
    tree = replace(EVEN, points=points((100, 240, 280), (300, 300, 340)))

    assert ranked(tree)[0].note == "not measured at 400 mm yet"


def test_a_tree_is_ranked_with_the_pads_that_serve_best() -> None:
    """Bare it stops short; with thin pads it reaches, with thick ones it has less room than it
    would want but leaves less loose.
    """
    bare = points((100, 240, 280), (250, 300, 340), (400, 345, 365))
    thin = points((100, 244, 284), (250, 300, 340), (400, 345, 375), pads="thin")
    thick = points((100, 240, 280), (250, 300, 340), (400, 355, 385), pads="thick")

    choices = ranked(replace(EVEN, points=bare + thin + thick))

    assert [(choice.label, choice.pads, choice.share) for choice in choices] == [
        ("even", "thick", 0.5)
    ]


def test_a_tree_without_a_scale_is_ranked_without_a_setting() -> None:
    """How far is known, in turns it is not."""
    choice = ranked(replace(EVEN, scale=None))[0]

    assert (choice.share, choice.setting) == (0.5, None)


def test_an_asked_height_outside_the_boots_readings_is_refused() -> None:
    """Nothing is known about the boot there."""
    with pytest.raises(BadInput, match="no reading at 410 mm"):
        rank_trees([EVEN], replace(WANTED, at_mm=410))


def test_room_is_no_gain() -> None:
    """Where the boot is too wide already the tree opens nothing, and that is not called loose."""
    roomy = replace(WANTED, need=Profile.straight([(100, -30), (250, -30), (400, 12)]))
    by_height = {effect.height_mm: effect for effect in ranked(EVEN, wanted=roomy)[0].heights}
    assert (by_height[250].gain_mm, by_height[250].looseness_mm) == (0, 0)
