"""Which tree would help to have twice, and which shorter hold."""

from __future__ import annotations

from dataclasses import replace

from support.plan_boots import EVERY_DAY, JOB, TODAY, day

from fitcounter.fit.plan.jobs import Booking, TreeDays
from fitcounter.fit.plan.what_helps import (
    Bottleneck,
    HoldOption,
    HoldProposal,
    bottleneck,
    shorter_hold,
)


def test_the_bottleneck_is_the_tree_whose_double_saves_most() -> None:
    """Three boots wait for A, two for B, none for C: a second A saves the third its second wait."""
    jobs = [
        replace(JOB, id=f"{n}", pair=f"{n}", arrival=n, trees=("A" if n < 3 else "B",))
        for n in range(5)
    ]

    assert bottleneck(jobs, TreeDays(["B", "A", "C"], EVERY_DAY)) == Bottleneck("A", 4)


def test_a_booked_tree_has_a_double_that_is_free() -> None:
    """A is lent for nine days: a second one would spare the only boot all of them."""
    assert bottleneck(
        [JOB], TreeDays(["A"], EVERY_DAY, [Booking("A", TODAY, day(9))])
    ) == Bottleneck("A", 9)


def test_where_a_second_tree_helps_nobody_there_is_no_bottleneck() -> None:
    """One boot, one tree: nothing to gain."""
    assert bottleneck([JOB], TreeDays(["A"], EVERY_DAY)) is None


WEEK = replace(JOB, hold_h=168, rounds_likely=1, rounds_promise=1)
RIGHT = replace(WEEK, id="41R", side="right")
TWO_DAYS_TWO_ROUNDS, THREE_DAYS = HoldOption(48, 2, 2), HoldOption(72, 1, 1)
OPTIONS = {"41L": (TWO_DAYS_TWO_ROUNDS, THREE_DAYS), "41R": (TWO_DAYS_TWO_ROUNDS, THREE_DAYS)}


def test_a_shorter_hold_is_proposed_when_boots_take_turns_on_one_tree() -> None:
    """A week each on one tree: 15 days; three days each: 7; two rounds of two days each: 9.

    The earliest day wins.
    """
    answer = shorter_hold([WEEK, RIGHT], TreeDays(["A"], EVERY_DAY), "41", OPTIONS)

    assert answer == HoldProposal(72, day(7), day(7), 8)


def test_the_longest_hold_that_keeps_the_promise_is_proposed() -> None:
    """Five days each keep a promise for day 11; three days would be earlier, and are not needed."""
    options = {job: (*choices, HoldOption(120, 1, 1)) for job, choices in OPTIONS.items()}

    answer = shorter_hold(
        [replace(WEEK, promised=day(11)), RIGHT], TreeDays(["A"], EVERY_DAY), "41", options
    )

    assert answer == HoldProposal(120, day(11), day(11), 4)


def test_where_no_hold_keeps_the_promise_the_earliest_day_is_proposed() -> None:
    """A promise for day 2 cannot be kept: day 7 is still better than day 15."""
    answer = shorter_hold(
        [replace(WEEK, promised=day(2)), RIGHT], TreeDays(["A"], EVERY_DAY), "41", OPTIONS
    )

    assert answer == HoldProposal(72, day(7), day(7), 8)


def test_no_hold_is_proposed_while_there_are_trees_enough() -> None:
    """Each boot has its own tree and nothing was promised: the week stays a week."""
    assert (
        shorter_hold(
            [WEEK, replace(RIGHT, trees=("B",))], TreeDays(["A", "B"], EVERY_DAY), "41", OPTIONS
        )
        is None
    )


def test_no_hold_is_proposed_that_is_longer_or_saves_nothing() -> None:
    """A longer hold is no answer to a want of trees, nor are four rounds of two days, nor none at
    all.
    """
    options = {
        "41L": (HoldOption(240, 1, 1), HoldOption(48, 4, 4)),
        "41R": (HoldOption(240, 1, 1), HoldOption(48, 4, 4)),
    }

    assert shorter_hold([WEEK, RIGHT], TreeDays(["A"], EVERY_DAY), "41", options) is None
    assert shorter_hold([WEEK, RIGHT], TreeDays(["A"], EVERY_DAY), "41", {}) is None


def test_no_hold_is_proposed_for_a_pair_that_cannot_be_planned() -> None:
    """Without a tree there is nothing to shorten."""
    assert (
        shorter_hold([replace(WEEK, trees=())], TreeDays(["A"], EVERY_DAY), "41", OPTIONS) is None
    )
