"""The sentence for each tree that will not do: too big, too narrow, or it opens too far."""

from __future__ import annotations

from dataclasses import replace

import pytest
from fit.trees.tree_and_boot import EVEN, WANTED, points, ranked, sentence

from fitcounter.fit.assessment.profile import Profile
from fitcounter.fit.trees.serving import Tree


@pytest.mark.parametrize(
    ("change", "words"),
    [
        ({"side": "right"}, "Made for right boots."),
        ({"state": "in repair"}, "In repair."),
        ({"state": "retired"}, "Retired."),
        ({"label": "lent"}, "Booked for those days."),
    ],
)
def test_a_tree_that_cannot_be_had_says_why(change: dict[str, str], words: str) -> None:
    """Wrong side, state and booking are looked at before any girth."""
    assert sentence(replace(EVEN, **change), replace(WANTED, busy=frozenset({"lent"}))) == words


def test_a_tree_made_for_left_boots_is_none_for_a_right_one() -> None:
    assert sentence(EVEN, replace(WANTED, side="right")) == "Made for left boots."


def test_a_tree_for_either_side_serves_both() -> None:
    """No reason to reject it."""
    assert ranked(replace(EVEN, side="either"))[0].share == 0.5


def test_a_tree_that_is_too_big_closed_says_where() -> None:
    """Closed it measures 264.2 at 100 mm, the boot 260."""
    tree = replace(EVEN, points=points((100, 264.2, 280), (250, 300, 340), (400, 345, 395)))

    assert sentence(tree) == "Too big for this boot: closed, 5 mm over at 100 mm."


def test_a_tree_exactly_as_big_as_the_boot_goes_in() -> None:
    """Closed 260 at 100 mm in a boot of 260."""
    assert (
        ranked(replace(EVEN, points=points((100, 260, 261), (250, 300, 340), (400, 345, 395))))[
            0
        ].share
        == 0.5
    )


def test_a_tree_that_ends_before_the_wanted_girth_says_by_how_much() -> None:
    """Open it measures 368 of the 370 wanted."""
    tree = replace(EVEN, points=points((100, 240, 280), (250, 300, 340), (400, 345, 368)))

    assert sentence(tree) == "Wide open, 2 mm short of the 370 mm wanted."


def test_a_tree_that_just_reaches_has_no_room_left() -> None:
    """Open it measures the wanted 370."""
    choice = ranked(
        replace(EVEN, points=points((100, 240, 262), (250, 300, 335), (400, 345, 370)))
    )[0]

    assert (choice.share, choice.room_left_mm) == (1, 0)


def test_an_opening_past_the_round_limit_at_another_height_is_named_with_the_height() -> None:
    """At 100 mm it would open 280 − 260 = 20; one round may 6 % of 230 of leather: 13.8."""
    tree = replace(EVEN, points=points((100, 250, 310), (250, 300, 340), (400, 345, 395)))

    assert sentence(tree) == "At 100 mm the boot would open 7 mm more than one round may."


def test_an_opening_past_the_ceiling_at_another_height_is_named_with_the_height() -> None:
    """Grown from 240 to 260 at 100 mm already, 10 more: 30 of leather that was 210, and 12 % is
    25.2.
    """
    first = Profile.through([(100, 240), (250, 330), (400, 360)])
    wanted = replace(WANTED, first=first, leather0_mm=lambda height: first.at(height) - 30)
    tree = replace(EVEN, points=points((100, 250, 290), (250, 300, 340), (400, 345, 395)))

    assert (
        sentence(tree, wanted)
        == "At 100 mm the boot would open 5 mm past the most its leather may ever."
    )


def test_a_boot_past_its_ceiling_where_the_tree_opens_nothing_is_no_reason_against_the_tree() -> (
    None
):
    """Grown from 225 to 260 at 100 mm, past 12 % of 195; the tree stays at 260 there."""
    first = Profile.through([(100, 225), (250, 330), (400, 360)])

    assert (
        ranked(
            EVEN,
            wanted=replace(WANTED, first=first, leather0_mm=lambda height: first.at(height) - 30),
        )[0].share
        == 0.5
    )


def test_a_height_left_looser_than_a_quarter_inch_is_named() -> None:
    """At 100 mm 13 mm of opening, of which 6.5 stay where nothing is wanted; 6 is the most."""
    tree = replace(EVEN, points=points((100, 253, 293), (250, 300, 340), (400, 345, 395)))

    assert sentence(tree) == "Leaves the boot 7 mm looser than wanted at 100 mm."
    just_in = replace(tree, points=points((100, 252, 292), (250, 300, 340), (400, 345, 395)))
    assert ranked(just_in)[0].worst_looseness_mm == pytest.approx(6)


def test_sentences_speak_in_the_counters_unit() -> None:
    """Inches where the counter reads inches: 2 mm is rounded up to ⅛."""
    tree = replace(EVEN, points=points((100, 240, 280), (250, 300, 340), (400, 345, 368)))

    assert (
        sentence(tree, replace(WANTED, unit="in"))
        == "Wide open, ⅛ in short of the 14 9/16 in wanted."
    )


def test_a_tree_known_by_one_girth_is_rejected_only_where_that_is_certain() -> None:
    """Closed 361 is more than the boot anywhere (360); open 369 is under the wanted 370."""
    assert (
        sentence(Tree("big", "left", "L", closed_mm=361)) == "Too big for this boot: 361 mm closed."
    )
    assert (
        sentence(Tree("small", "left", "S", open_mm=369))
        == "Wide open, 1 mm short of the 370 mm wanted."
    )
    assert (
        ranked(Tree("may do", "left", "M", closed_mm=360, open_mm=370))[0].note
        == "not measured yet"
    )


def test_where_no_pads_serve_the_sentence_is_that_of_the_bare_tree() -> None:
    """Bare it stops short, padded it does not go in."""
    bare = points((100, 240, 280), (250, 300, 340), (400, 345, 365))
    padded = points((100, 265, 305), (250, 320, 360), (400, 370, 390), pads="thick")

    assert (
        sentence(replace(EVEN, points=padded + bare))
        == "Wide open, 5 mm short of the 370 mm wanted."
    )
