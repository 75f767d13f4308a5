"""Jobs, trees, bookings and open days turned into day numbers."""

from __future__ import annotations

from dataclasses import replace

from support.plan_days import EVERY_DAY, JOB, WEEKDAYS, day

from fitcounter.fit.plan import layout
from fitcounter.fit.plan.days import day_table
from fitcounter.fit.plan.jobs import Booking, Hold, OnTree, Resting, TreeDays

OTHER = replace(JOB, id="52L", pair="52", arrival=2)


def first_days(mask: int, count: int = 8) -> list[int]:
    return [number for number in range(count) if mask >> number & 1]


def test_a_running_round_keeps_its_tree_until_it_comes_off() -> None:
    running = replace(JOB, now=OnTree("A", day(-2), day(2)))
    (free,) = layout.laid_out([running], TreeDays(["A"], EVERY_DAY)).floor.free
    assert first_days(free) == [2, 3, 4, 5, 6, 7]


def test_a_booking_that_begins_on_a_closed_day_takes_the_tree_from_the_last_open_one() -> None:
    """Saturday is day 3: a boot on the tree on Friday could not come off in time."""
    (free,) = layout.free_days([], ["A"], day_table(WEEKDAYS), [Booking("A", day(3), day(5))])
    assert first_days(free) == [0, 1, 5, 6, 7]


def test_preparing_comes_only_before_the_first_round_of_all() -> None:
    assert layout.prepares(replace(JOB, preparing_days=2)) == 2
    assert layout.prepares(replace(JOB, preparing_days=2, rounds_done=1)) == 0
    assert layout.prepares(replace(JOB, preparing_days=2, now=Resting(day(1)))) == 0


def test_the_first_reading_is_after_the_round_under_way_or_when_the_boot_is_here() -> None:
    table = day_table(EVERY_DAY)
    assert layout.first_reading(replace(JOB, now=OnTree("A", day(-2), day(2))), table) == 3
    assert layout.first_reading(replace(JOB, now=OnTree("A", day(-9), day(-2))), table) == 1
    assert layout.first_reading(replace(JOB, now=Resting(day(2))), table) == 2
    assert layout.first_reading(replace(JOB, not_before=day(4)), table) == 4
    assert layout.first_reading(JOB, table) == 0


def test_pairs_stand_by_promised_day_then_by_arrival_and_those_without_a_promise_last() -> None:
    jobs = [
        JOB,
        replace(OTHER, promised=day(9)),
        replace(JOB, id="60L", pair="60", arrival=0),
        replace(JOB, id="61L", pair="61", promised=day(-1)),
    ]
    bench = layout.laid_out(jobs, TreeDays(["A"], EVERY_DAY))
    assert [bench.pairs[pair] for pair in layout.pairs_in_sequence(bench)] == [
        "61",
        "52",
        "60",
        "41",
    ]
    assert bench.floor.promised == (None, 9, None, -1)


def test_the_earlier_promise_of_two_boots_is_their_pairs() -> None:
    jobs = [replace(JOB, promised=day(9)), replace(JOB, id="41R", side="right", promised=day(7))]
    assert layout.promised_day(jobs, "41", day_table(EVERY_DAY)) == 7


def test_holds_of_the_last_plan_are_kept_while_boot_tree_and_day_still_are() -> None:
    def hold(on: int, job: str = "41L", tree: str = "A", round_n: int = 1) -> Hold:
        return Hold(job, tree, round_n, day(on), day(on + 2), 48)

    bench = layout.laid_out([replace(JOB, rounds_promise=1)], TreeDays(["A"], EVERY_DAY))
    kept = layout.holds_to_keep(
        bench, [hold(6), hold(3), hold(1, tree="Z"), hold(2, job="9"), hold(-1), hold(0, round_n=0)]
    )
    assert [(one.boot, one.tree, one.on, one.off) for one in kept] == [(0, 0, 3, 5)]


def test_holds_in_none_yet_follow_the_kept_ones_boots_taking_turns() -> None:
    two = [replace(JOB, rounds_promise=2), replace(OTHER, rounds_promise=2)]
    bench = layout.laid_out(two, TreeDays(["A"], EVERY_DAY))
    assert layout.order_of(bench, []) == [0, 1, 0, 1]
    (kept,) = layout.holds_to_keep(bench, [Hold("52L", "A", 1, day(1), day(3), 48)])
    assert layout.order_of(bench, [kept]) == [1, 0, 1, 0]
