"""The bench in day numbers: what is free for how long, and what an order of holds becomes."""

from __future__ import annotations

from dataclasses import replace

import pytest
from support.plan_days import EVERY_DAY, JOB, WEEKDAYS, day

from fitcounter.fit.plan import floor
from fitcounter.fit.plan.jobs import BenchJob, Booking, TreeDays
from fitcounter.fit.plan.layout import laid_out

SHORT = replace(JOB, rounds_promise=1, preparing_days=0, finishing_days=0)


def bench_of(*jobs: BenchJob, trees: str = "A", bookings: tuple[Booking, ...] = ()) -> floor.Floor:
    return laid_out(jobs, TreeDays(list(trees), EVERY_DAY, bookings)).floor


@pytest.mark.parametrize("days", range(1, 20))
def test_days_are_free_for_so_many_running_only_where_each_of_them_is(days: int) -> None:
    """Twenty free days, one taken, twenty more: 21 − d starts in each stretch."""
    free = ((1 << 20) - 1) | ((1 << 20) - 1) << 21
    starts = floor.runs_of(free, floor.shifts_for(days))
    found = [number for number in range(41) if starts >> number & 1]
    assert found == [*range(21 - days), *range(21, 42 - days)]


def test_a_hold_takes_the_better_tree_where_both_are_free_as_early() -> None:
    both = bench_of(replace(SHORT, trees=("B", "A")), trees="AB")
    placed, _ = floor.place(both, [0], floor.beginning(both))
    assert [(hold.tree, hold.on, hold.off) for hold in placed] == [(1, 0, 2)]
    lent = Booking("B", day(0), day(1))
    one = bench_of(replace(SHORT, trees=("B", "A")), trees="AB", bookings=(lent,))
    assert floor.earliest(one, one.boots[0], list(one.free), 0) == (0, 0)


def test_two_boots_on_one_tree_follow_each_other() -> None:
    two = bench_of(SHORT, replace(SHORT, id="41R", side="right"))
    placed, moments = floor.place(two, [1, 0], floor.beginning(two))
    assert [(hold.boot, hold.on, hold.off) for hold in placed] == [(1, 0, 2), (0, 2, 4)]
    again, _ = floor.place(two, [1, 0], moments[1], 1)
    assert again == placed[1:]
    assert placed[0].days == 0b11


def test_a_boot_that_no_tree_serves_is_never_placed() -> None:
    none = bench_of(replace(SHORT, trees=("Z",)))
    (hold,), moments = floor.place(none, [0], floor.beginning(none))
    assert (hold.tree, hold.on) == (-1, none.never)
    assert moments[-1].from_day == (none.never,)


def test_a_pair_is_ready_when_its_later_boot_is_and_ten_times_a_day_late_weighs() -> None:
    pair = bench_of(
        replace(SHORT, promised=day(4)), replace(SHORT, id="41R", side="right", promised=day(4))
    )
    assert floor.ready_days(pair, [3, 6]) == [6]
    assert floor.days_late(pair, [6]) == 2
    assert floor.total(pair, [3, 6]) == 6 + floor.LATE_WEIGHT * 2
    assert floor.days_late(pair, [4]) == 0


def test_a_hold_begins_and_ends_on_open_days_alone() -> None:
    """Today is a Wednesday: two days from Thursday end on Saturday, so it comes off on Monday."""
    week = laid_out([replace(SHORT, not_before=day(1))], TreeDays(["A"], WEEKDAYS)).floor
    (hold,), _ = floor.place(week, [0], floor.beginning(week))
    assert (hold.on, hold.off) == (1, 5)
