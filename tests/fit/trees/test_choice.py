"""Which tree serves a round: what it does at every height, the ranking, and the sentence for each
that will not do.
"""

from __future__ import annotations

from dataclasses import replace

import pytest

from fitcounter.errors import BadInput
from fitcounter.fit.assessment.profile import Profile
from fitcounter.fit.trees.calibration import CalibrationPoint, Scale
from fitcounter.fit.trees.choice import Choice, Rejected, rank_trees
from fitcounter.fit.trees.limits import Wanted
from fitcounter.fit.trees.serving import Tree

TURNS = Scale("turns", 0, 20)
BOOT = Profile.through([(100, 260), (250, 330), (400, 360)])
WANTED = Wanted(
    side="left",
    at_mm=400,
    girth_mm=370,
    boot=BOOT,
    first=BOOT,
    leather0_mm=lambda height: BOOT.at(height) - 30,
    round_share=0.06,
    ceiling_share=0.12,
    kept=0.5,
    need=Profile.straight([(100, 0), (250, 0), (400, 12)]),
    unit="mm",
)


def points(*girths: tuple[float, float, float], pads: str = "") -> tuple[CalibrationPoint, ...]:
    """(height, closed, open) each, by the tape."""
    closed = [CalibrationPoint(0, height, girth, pads, "tape") for height, girth, _ in girths]
    return (
        *closed,
        *(CalibrationPoint(1, height, girth, pads, "tape") for height, _, girth in girths),
    )


EVEN = Tree(
    "even",
    "left",
    "M",
    scale=TURNS,
    points=points((100, 240, 280), (250, 300, 340), (400, 345, 395)),
)


def ranked(*trees: Tree, wanted: Wanted = WANTED) -> tuple[Choice, ...]:
    choices, rejected = rank_trees(trees, wanted)
    assert rejected == ()
    return choices


def sentence(tree: Tree, wanted: Wanted = WANTED) -> str:
    choices, rejected = rank_trees([tree], wanted)
    assert choices == ()
    assert rejected == (Rejected(tree.label, rejected[0].sentence),)
    return rejected[0].sentence


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


def test_a_tree_not_measured_is_ranked_last() -> None:
    """Usable from label, side and size: behind every measured one, with its note."""
    choices = ranked(Tree("new", "left", "M"), EVEN)

    assert [(choice.label, choice.note) for choice in choices] == [
        ("even", ""),
        ("new", "not measured yet"),
    ]
    assert choices[1] == Choice("new", note="not measured yet")
    assert choices[1].shift_mm == 0


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


def test_where_no_pads_serve_the_sentence_is_that_of_the_bare_tree() -> None:
    """Bare it stops short, padded it does not go in."""
    bare = points((100, 240, 280), (250, 300, 340), (400, 345, 365))
    padded = points((100, 265, 305), (250, 320, 360), (400, 370, 390), pads="thick")

    assert (
        sentence(replace(EVEN, points=padded + bare))
        == "Wide open, 5 mm short of the 370 mm wanted."
    )


def test_a_tree_without_a_scale_is_ranked_without_a_setting() -> None:
    """How far is known, in turns it is not."""
    choice = ranked(replace(EVEN, scale=None))[0]

    assert (choice.share, choice.setting) == (0.5, None)


def test_an_asked_height_outside_the_boots_readings_is_refused() -> None:
    """Nothing is known about the boot there."""
    with pytest.raises(BadInput, match="no reading at 410 mm"):
        rank_trees([EVEN], replace(WANTED, at_mm=410))


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


def test_room_is_no_gain() -> None:
    """Where the boot is too wide already the tree opens nothing, and that is not called loose."""
    roomy = replace(WANTED, need=Profile.straight([(100, -30), (250, -30), (400, 12)]))
    by_height = {effect.height_mm: effect for effect in ranked(EVEN, wanted=roomy)[0].heights}
    assert (by_height[250].gain_mm, by_height[250].looseness_mm) == (0, 0)
