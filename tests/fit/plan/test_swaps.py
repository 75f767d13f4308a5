"""Swapping: what a swap is found to gain is what it gains, and the search is bounded by a count."""

from __future__ import annotations

from random import Random

from hypothesis import given, settings
from hypothesis import strategies as st
from support.plan_cases import random_case

from fitcounter.fit.plan.floor import Floor, Order, beginning, place, total
from fitcounter.fit.plan.jobs import TreeDays
from fitcounter.fit.plan.layout import laid_out, pairs_in_sequence
from fitcounter.fit.plan.swaps import best_order, first_orders, improved, tried


def worth(floor: Floor, order: Order) -> int:
    return total(floor, place(floor, order, beginning(floor))[1][-1].from_day)


@settings(derandomize=True, deadline=None, max_examples=60)
@given(st.randoms(use_true_random=False))
def test_a_swap_is_worth_what_placing_the_whole_order_anew_is_worth(random: Random) -> None:
    """Placing from the swap on, and stopping early where nothing changes any more, never misses nor
    invents a gain.
    """
    case = random_case(random)
    bench = laid_out(case.jobs, TreeDays(case.trees, case.days, case.bookings))
    order = first_orders(bench.floor, pairs_in_sequence(bench))[0]
    moments = place(bench.floor, order, beginning(bench.floor))[1]
    best = worth(bench.floor, order)
    for early in range(len(order)):
        for late in range(early + 1, len(order)):
            trial = order.copy()
            trial[early], trial[late] = trial[late], trial[early]
            objective, used = tried(bench.floor, trial, moments, (early, late), best)
            assert objective == worth(bench.floor, trial)
            assert late - early < used <= len(order) - early


@settings(derandomize=True, deadline=None, max_examples=40)
@given(st.randoms(use_true_random=False))
def test_swapping_never_makes_a_plan_worse_and_ends_where_no_swap_helps(random: Random) -> None:
    """The objective said is that of the order found, which no further swap lowers; without
    placements nothing is swapped.
    """
    case = random_case(random, 2)
    bench = laid_out(case.jobs, TreeDays(case.trees, case.days, case.bookings))
    floor, pairs = bench.floor, pairs_in_sequence(bench)
    every_hold = [number for number, boot in enumerate(floor.boots) for _ in range(boot.holds)]
    for start in first_orders(floor, pairs):
        assert sorted(start) == every_hold
        order, objective, left = improved(floor, start, 10**9)
        assert objective == worth(floor, order) <= worth(floor, start)
        assert improved(floor, order, 10**9)[0] == order
        assert 10**9 - left >= len(order)
    starts = first_orders(floor, pairs)
    assert worth(floor, best_order(floor, starts, 0)) == min(
        worth(floor, start) for start in starts
    )
