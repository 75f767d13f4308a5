"""The chart of rounds in words."""

from __future__ import annotations

from fitcounter.fit.drawings.rounds_words import RoundReadings, in_words

INCH = 25.4


def test_each_round_says_what_was_read_and_that_one_does_not_rest_yet() -> None:
    rounds = (
        RoundReadings(15 * INCH, 16 * INCH, 15.5 * INCH),
        RoundReadings(15.5 * INCH, 16.25 * INCH, None),
        RoundReadings(None, None, None),
    )
    assert in_words(rounds, 15.75 * INCH, "in") == (
        "Wanted 15¾ in. Round 1: before 15 in, on the tree 16 in, rested 15½ in."
        " Round 2: on the tree 16¼ in, not yet rested. Round 3: no reading, not yet rested."
    )
