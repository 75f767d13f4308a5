"""Two dates for a new pair, who becomes late by it, and what any other change moves."""

from __future__ import annotations

from dataclasses import replace

from support.plan_boots import EVERY_DAY, JOB, NEW, day

from fitcounter.fit.plan.jobs import OnTree, TreeDays
from fitcounter.fit.plan.made_late import Moved, moved, two_dates
from fitcounter.fit.plan.plan import plan


def test_a_new_pair_gets_a_day_to_hope_for_and_a_day_to_promise_behind_those_already_promised() -> (
    None
):
    """The tree is promised to another until day 2: hope one round after that, promise two; nobody
    becomes late.
    """
    answer = two_dates([replace(JOB, promised=day(3))], TreeDays(["A"], EVERY_DAY), [NEW])

    assert (answer.hope, answer.promise) == (day(5), day(8))
    assert answer.late == ()
    assert {hold.job for hold in answer.plan.holds()} == {"41L", "50L"}


def test_a_new_pair_that_cannot_be_planned_has_no_dates() -> None:
    """No tree in use serves it; the plan says why."""
    answer = two_dates([JOB], TreeDays(["A"], EVERY_DAY), [replace(NEW, trees=("B",))])

    assert (answer.hope, answer.promise) == (None, None)
    assert answer.plan.unplanned == (("50L", "No tree in use fits this boot."),)


def test_a_pair_that_becomes_late_because_of_the_new_one_is_named() -> None:
    """The new pair was put on the tree already; who waits for it misses day 3, who was late anyway
    is not named.
    """
    waiting = replace(JOB, promised=day(3))
    late_anyway = replace(JOB, id="7L", pair="7", trees=("B",), promised=day(1))
    rush = replace(NEW, rounds_promise=1, now=OnTree("A", day(-1), day(1)))

    answer = two_dates([waiting, late_anyway], TreeDays(["A", "B"], EVERY_DAY), [rush])

    assert [(entry.pair, entry.late_days) for entry in answer.late] == [("41", 1)]


def test_what_bench_away_does_is_listed_with_whose_promise_it_breaks() -> None:
    """Two days away: both pairs move, one keeps its promise, one breaks it; a pair in one plan only
    is no move.
    """
    jobs = [
        replace(JOB, promised=day(5)),
        replace(JOB, id="42L", pair="42", trees=("B",), promised=day(3)),
    ]
    before = plan([*jobs, NEW], TreeDays(["A", "B"], EVERY_DAY))
    away = replace(EVERY_DAY, away=((day(2), day(3)),))
    after = plan(
        [*jobs, replace(NEW, id="51L", pair="51")], TreeDays(["A", "B"], away), before.holds()
    )

    assert moved(before, after) == (
        Moved("41", day(5), day(3), day(5), breaks_promise=False),
        Moved("42", day(3), day(3), day(5), breaks_promise=True),
    )
    assert moved(before, before) == ()
