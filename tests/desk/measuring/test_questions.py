"""Questions about readings: each once with its places, and any of them may be left as it is."""

from __future__ import annotations

from fitcounter.desk.measuring.questions import again, asked
from fitcounter.desk.measuring.sheet import SheetLine
from fitcounter.fit.assessment.slips import Slip

TWICE = "Please measure again."
SLIPS = (
    Slip("left", "left leg", "12 in", TWICE),
    Slip("left", "left leg", "14 in", TWICE),
    Slip("right", "right leg", "14 in", TWICE),
    Slip("left", "left boot", "", "A boot without a zipper?"),
)
LINES = (SheetLine("12", "calf", False), SheetLine("14", "", False))


def test_a_question_stands_once_with_all_its_places() -> None:
    asks, about = asked(SLIPS, ())
    assert [(ask.number, ask.question, ask.where) for ask in asks] == [
        (0, TWICE, ("left leg, 12 in and 14 in", "right leg, 14 in")),
        (1, "A boot without a zipper?", ("left boot",)),
    ]
    assert about == list(SLIPS)
    assert again(about, LINES, "in") == {"leg_left_0", "leg_left_1", "leg_right_1"}


def test_a_question_that_is_skipped_asks_for_nothing_and_the_others_keep_their_number() -> None:
    asks, about = asked(SLIPS, {0, 7})
    assert [ask.number for ask in asks] == [1]
    assert again(about, LINES, "in") == frozenset()
