"""Holds that stay where they were, and last holds that are set late for an agreed pickup."""

from __future__ import annotations

from dataclasses import replace

from support.plan_days import EVERY_DAY, JOB, day

from fitcounter.fit.plan import holds
from fitcounter.fit.plan.floor import Floor, beginning, hold_at, place
from fitcounter.fit.plan.jobs import Booking, TreeDays
from fitcounter.fit.plan.layout import laid_out

SHORT = replace(JOB, rounds_promise=1, preparing_days=0, finishing_days=0)
OTHER = replace(SHORT, id="52L", pair="52", arrival=2)


def floor_of(*bookings: Booking) -> Floor:
    return laid_out([SHORT, OTHER], TreeDays(["A"], EVERY_DAY, bookings)).floor


def test_a_hold_stays_where_it_was_and_the_next_takes_what_is_left() -> None:
    """Earliest days alone would put the first boot on at once."""
    floor = floor_of()
    placed, after = holds.place_as_before(floor, [0, 1], [hold_at(floor, 0, 0, 3)])
    assert [(hold.boot, hold.on) for hold in placed] == [(0, 3), (1, 0)]
    assert after.free[0] & 0b11111 == 0b00100


def test_a_hold_that_cannot_be_any_more_takes_the_earliest_days() -> None:
    floor = floor_of(Booking("A", day(4), day(5)))
    placed, _ = holds.place_as_before(floor, [0], [hold_at(floor, 0, 0, 3)])
    assert [hold.on for hold in placed] == [0]


def test_a_boot_goes_on_only_a_tree_that_serves_it_and_not_before_its_day() -> None:
    floor = floor_of()
    free = list(floor.free)
    assert holds.can_be(hold_at(floor, 0, 0, 3), floor, free, 3)
    assert not holds.can_be(hold_at(floor, 0, 0, 3), floor, free, 4)
    alone = Floor(
        (replace(floor.boots[0], trees=()),), (None,), floor.free, floor.open_from, floor.never
    )
    assert not holds.can_be(hold_at(alone, 0, 0, 3), alone, free, 3)


def test_a_last_hold_is_as_late_as_its_pickup_lets_it() -> None:
    """Two days on the tree and one of rest: put on at day 7, ready by day 10."""
    floor = floor_of()
    placed, moments = place(floor, [0, 1], beginning(floor))
    moved = holds.set_late(floor, placed, moments[-1].free, (10, None))
    assert [(hold.boot, hold.on) for hold in moved] == [(0, 7), (1, 2)]


def test_a_hold_never_moves_onto_days_that_another_boot_has_nor_forward() -> None:
    floor = floor_of()
    placed, moments = place(floor, [0, 1], beginning(floor))
    blocked = holds.set_late(floor, placed, moments[-1].free, (5, None))
    assert [hold.on for hold in blocked] == [0, 2]
    assert holds.latest(floor, 0, placed[1], list(floor.free), 3) == placed[1]
