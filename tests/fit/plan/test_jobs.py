"""Jobs of the bench plan: figures within their ranges, rounds that are planned and hoped."""

from __future__ import annotations

from dataclasses import replace
from datetime import timedelta

import pytest
from support.plan_days import JOB, TODAY, day

from fitcounter.errors import BadInput
from fitcounter.fit.plan.jobs import BootPlan, Hold, OnTree, PairPlan, Plan, Resting


@pytest.mark.parametrize(
    ("field", "least", "most"),
    [
        ("hold_h", 1, 720),
        ("rest_days", 1, 14),
        ("preparing_days", 0, 14),
        ("finishing_days", 0, 14),
    ],
)
def test_a_figure_outside_its_range_is_refused_with_the_range(
    field: str, least: int, most: int
) -> None:
    for value in (least, most):
        assert getattr(replace(JOB, **{field: value}), field) == value
    for value in (least - 1, most + 1):
        with pytest.raises(BadInput) as refused:
            replace(JOB, **{field: value})
        assert refused.value.field == field
        assert f"{least} to {most}" in refused.value.sentence


@pytest.mark.parametrize(
    ("likely", "promise", "hoped", "planned"),
    [(1, 2, 1, 2), (3, 2, 2, 2), (None, 2, 2, 2), (1, None, 1, 4)],
)
def test_more_than_is_forecast_means_the_most_and_no_more_is_hoped_than_planned(
    likely: int | None, promise: int | None, hoped: int, planned: int
) -> None:
    job = replace(JOB, rounds_likely=likely, rounds_promise=promise)
    assert (job.rounds_hoped, job.rounds_planned) == (hoped, planned)


@pytest.mark.parametrize("now", [OnTree("A", TODAY, day(2)), Resting(day(1))])
def test_a_round_that_is_not_read_yet_is_always_planned(now: OnTree | Resting) -> None:
    done = replace(JOB, rounds_likely=0, rounds_promise=0)
    assert (done.rounds_hoped, done.rounds_planned) == (0, 0)
    under_way = replace(done, now=now)
    assert (under_way.rounds_hoped, under_way.rounds_planned) == (1, 1)


def test_holds_come_by_day_and_tree_whatever_boot_they_are_of() -> None:
    holds = [
        Hold(job, tree, 1, day(on), day(on + 2), 48)
        for job, tree, on in (("a", "B", 1), ("a", "A", 4), ("b", "A", 1))
    ]
    boots = tuple(
        BootPlan(
            job, "1", "left", (), tuple(one for one in holds if one.job == job), day(5), day(6), 0
        )
        for job in ("a", "b")
    )
    pair = PairPlan("1", day(5), day(6), None, 0)
    made = Plan(TODAY, boots, (pair,), (("c", "No tree serves this boot."),), 6)
    assert [(hold.on - TODAY, hold.tree) for hold in made.holds()] == [
        (timedelta(days=1), "A"),
        (timedelta(days=1), "B"),
        (timedelta(days=4), "A"),
    ]
    assert made.boot("b") is boots[1]
    assert made.pair("1") is pair
    assert (made.boot("c"), made.pair("2")) == (None, None)
