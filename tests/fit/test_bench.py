"""The bench plan: the reference cases, and what a plan says."""

from __future__ import annotations

from datetime import date, timedelta

import pytest

from fitcounter.fit.bench import plan
from fitcounter.fit.bench_days import OpenDays
from fitcounter.fit.bench_jobs import Job

TODAY = date(2026, 11, 25)
EVERY_DAY = OpenDays(TODAY, frozenset(range(7)))


@pytest.mark.parametrize(("left_tree", "right_tree", "days"), [("L", "R", 6), ("either", "either", 9)])
def test_two_rounds_of_two_days_take_six_days_on_two_trees_and_nine_on_one(left_tree: str, right_tree: str, days: int) -> None:
    """Two rounds × 48 h hold, 24 h rest: 6 days with both trees, 9 with one that takes turns (worked out by hand)."""
    sides = (("a", "left", left_tree), ("b", "right", right_tree))
    jobs = [Job(item, "pair", side, 1, (tree,), 2, 2, 2, 48, 1, 0, 0) for item, side, tree in sides]

    result = plan(jobs, sorted({left_tree, right_tree}), EVERY_DAY)

    assert result.pairs[0].ready == TODAY + timedelta(days=days)
    assert result.objective == days
