"""No plan breaks a rule of the bench, whatever is on it; and it is near the exact optimum where
that can be computed.
"""

from __future__ import annotations

from dataclasses import replace
from datetime import timedelta
from random import Random
from statistics import mean

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from support.exact_plan import Exact, ratio
from support.plan_cases import TODAY, Case, broken_rules, random_case

from fitcounter.fit.plan.days import OpenDays
from fitcounter.fit.plan.jobs import BenchJob, Side, TreeDays
from fitcounter.fit.plan.plan import plan

EVERY_DAY = OpenDays(TODAY, frozenset(range(7)))


@settings(derandomize=True, deadline=None, max_examples=120)
@given(st.randoms(use_true_random=False), st.integers(1, 5))
def test_no_plan_breaks_a_tree_an_open_day_a_hold_or_a_rest(
    random: Random, most_pairs: int
) -> None:
    """Checked from outside, on dates; also after planning again with the last plan's holds and
    agreed pickup days.
    """
    case = random_case(random, most_pairs)
    first = case.plan()
    assert broken_rules(case, first) == []

    pickup = TODAY + timedelta(days=random.randint(0, 60))
    later = replace(
        case,
        jobs=[replace(job, pickup=pickup if random.random() < 0.5 else None) for job in case.jobs][
            1:
        ],
    )
    again = plan(later.jobs, TreeDays(later.trees, later.days, later.bookings), first.holds())
    assert broken_rules(later, again) == []


@settings(derandomize=True, deadline=None, max_examples=60)
@given(st.randoms(use_true_random=False))
def test_a_promised_day_keeps_its_trees(random: Random) -> None:
    """Promise every pair the day of the plan, plan again with its holds: nobody is late."""
    case = random_case(random)
    first = case.plan()
    ready = {entry.pair: entry.ready for entry in first.pairs}
    promised = [replace(job, promised=ready.get(job.pair)) for job in case.jobs]

    again = plan(promised, TreeDays(case.trees, case.days, case.bookings), first.holds())

    assert sum(entry.late_days for entry in again.pairs) == 0


def hand_made(left_tree: str, right_tree: str, days: OpenDays = EVERY_DAY) -> Case:
    """Two rounds of two days for each boot of one pair, no preparing or finishing."""
    sides: tuple[tuple[str, Side, str], ...] = (
        ("a", "left", left_tree),
        ("b", "right", right_tree),
    )
    jobs = [
        BenchJob(item, "pair", side, 1, (tree,), 2, 2, 2, 48, 1, 0, 0) for item, side, tree in sides
    ]
    return Case(jobs, sorted({left_tree, right_tree}), days, [])


def lapse(days: int) -> timedelta:
    return timedelta(days=days)


@pytest.mark.parametrize(
    ("hold", "on", "off", "word"),
    [
        (0, 0, -1, "off too early"),
        (0, 0, 1, "off later than the first open day"),
        (0, 1, 1, "read without its rest"),
        (1, -2, -2, "on before it was read"),
        (1, -3, -3, "b is on L while a is"),
    ],
)
def test_the_rules_notice_a_hold_that_was_moved(hold: int, on: int, off: int, word: str) -> None:
    """The check itself can fail: one hold of a sound plan moved by a day or more is seen."""
    case = hand_made("L", "L")
    sound = case.plan()
    boot = sound.boots[0]
    holds = list(boot.holds)
    holds[hold] = replace(
        holds[hold], on=holds[hold].on + lapse(on), off=holds[hold].off + lapse(off)
    )
    moved = replace(sound, boots=(replace(boot, holds=tuple(holds)), sound.boots[1]))

    assert broken_rules(case, sound) == []
    assert any(word in line for line in broken_rules(case, moved)), broken_rules(case, moved)


def test_the_rules_notice_work_on_a_closed_day() -> None:
    """A plan for every day of the week is not one for a bench shut at weekends."""
    case = hand_made("L", "R")

    broken = broken_rules(
        replace(case, days=replace(EVERY_DAY, weekdays=frozenset(range(5)))), case.plan()
    )

    assert any("closed day" in line for line in broken)


def near_the_optimum(cases: range) -> None:
    found = [ratio(seed) for seed in cases]
    proven = [(objective, exact) for objective, exact in found if exact is not None]

    assert len(proven) >= 0.95 * len(found)
    assert all(objective >= exact - 1e-4 for objective, exact in proven)
    assert mean(objective / max(exact, 1.0) - 1 for objective, exact in proven) <= 0.05


def test_small_benches_are_within_five_per_cent_of_the_exact_optimum_on_average() -> None:
    """SciPy's HiGHS solves each to proven optimality (25 cases here; all 200 with -m slow)."""
    near_the_optimum(range(25))


@pytest.mark.slow
def test_two_hundred_small_benches_are_within_five_per_cent_of_the_exact_optimum_on_average() -> (
    None
):
    """The long form: at most 6 boots and 3 trees each, no rule broken in any."""
    near_the_optimum(range(200))


@pytest.mark.parametrize(("left_tree", "right_tree", "days"), [("L", "R", 6), ("L", "L", 9)])
def test_the_yardstick_gives_six_and_nine_days(left_tree: str, right_tree: str, days: int) -> None:
    """The exact model agrees with the two cases worked out by hand, so that it may judge the
    plan.
    """
    assert Exact(hand_made(left_tree, right_tree), 30).solve() == pytest.approx(days)
