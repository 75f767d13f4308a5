"""Which placed holds a plan settles on: those of the last plan, or better ones.

What is settled on is a resting place: settled on again, with nothing changed, it is the same. So a
plan that is kept and one that is made afresh never say two days. Day numbers, as in `floor`. No
published standard.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from fitcounter.fit.handbook.shop import LATE_WEIGHT
from fitcounter.fit.plan.floor import (
    Floor,
    Moment,
    Placed,
    beginning,
    days_late,
    place,
    ready_days,
    total,
)
from fitcounter.fit.plan.holds import place_as_before, set_late
from fitcounter.fit.plan.jobs import Hold, OnTree
from fitcounter.fit.plan.layout import Bench, by_day, holds_to_keep, order_of, pairs_in_sequence
from fitcounter.fit.plan.swaps import best_order, first_orders

ReadyBy = tuple[int | None, ...]


@dataclass(frozen=True, slots=True)
class Settled:
    """Holds in their last place, of the boots that have them all.

    read_days: per boot, when it is read for the last time; `never` where a hold has no place.
    objective: before last holds were set late. standing: days late, then the objective, where a
    boot gains nothing by being ready before the day it is set late against; less is better.
    late: indexes of the pairs that miss their promised day.
    """

    holds: tuple[Placed, ...]
    read_days: tuple[int, ...]
    objective: int
    standing: tuple[int, int]
    late: frozenset[int]


def settled_on(bench: Bench, ready_by: ReadyBy, last: Sequence[Hold], placements: int) -> Settled:
    """The last plan's holds where they were, unless an order is found that is better and is
    taken (`is_taken`).

    ready_by: per boot, the day its last hold is set late against. The order is looked for without
    a glance at the last plan: else a better start would find a still better one every time.
    """
    keep = holds_to_keep(bench, last)
    firm = all_known(bench, keep)
    orders = first_orders(bench.floor, pairs_in_sequence(bench))
    afresh = placed_in(bench, best_order(bench.floor, orders, placements), ready_by)
    if not keep:
        return moved_up(bench, afresh, ready_by, firm)
    known = order_of(bench, keep)
    kept = settle(bench.floor, *place_as_before(bench.floor, known, keep), ready_by)
    best = afresh if is_taken(bench, kept, afresh, firm) else kept
    return moved_up(bench, best, ready_by, firm)


def all_known(bench: Bench, keep: Sequence[Placed]) -> bool:
    """Whether every boot that is to go on a tree had a hold before: nobody is new at the bench."""
    had = {hold.boot for hold in keep}
    return all(number in had for number, boot in enumerate(bench.floor.boots) if boot.holds)


def moved_up(bench: Bench, settled: Settled, ready_by: ReadyBy, firm: bool) -> Settled:
    """The same order, each hold on the earliest days, over and over while that is better."""
    while True:
        earlier = placed_in(bench, order_of(bench, by_day(settled.holds)), ready_by)
        if not is_taken(bench, settled, earlier, firm):
            return settled
        settled = earlier


def is_taken(bench: Bench, kept: Settled, other: Settled, firm: bool) -> bool:
    """Is the other better, and no boot that went on a tree today ready later for it?

    firm: a promise that is kept stays so, however late others are: the day that somebody was just
    told is not broken in the same breath. Who is new at the bench may make others late; that is
    asked about before.
    """
    if other.standing >= kept.standing or (firm and other.late - kept.late):
        return False
    return not any(
        isinstance(job.now, OnTree)
        and job.now.since == bench.table.today
        and other.read_days[number] > kept.read_days[number]
        for number, job in enumerate(bench.jobs)
    )


def placed_in(bench: Bench, order: list[int], ready_by: ReadyBy) -> Settled:
    """An order placed on the earliest days, last holds set late."""
    placed, moments = place(bench.floor, order, beginning(bench.floor))
    return settle(bench.floor, placed, moments[-1], ready_by)


def settle(floor: Floor, placed: list[Placed], end: Moment, ready_by: ReadyBy) -> Settled:
    """Last holds set late until none can go later; holds of a boot that has not all of them are
    given up.
    """
    holds = [hold for hold in placed if end.from_day[hold.boot] < floor.never]
    moved = set_late(floor, holds, free_beside(floor, holds), ready_by)
    while moved != holds:
        holds, moved = moved, set_late(floor, moved, free_beside(floor, moved), ready_by)
    read_days = list(end.from_day)
    for hold in holds:
        read_days[hold.boot] = floor.boots[hold.boot].rhythm.read_day[hold.on]
    ready = ready_days(floor, read_days)
    for boot, limit in zip(floor.boots, ready_by, strict=True):
        ready[boot.pair] = max(ready[boot.pair], limit or 0)
    late = days_late(floor, ready)
    return Settled(
        tuple(holds),
        tuple(read_days),
        total(floor, end.from_day),
        (late, sum(ready) + LATE_WEIGHT * late),
        missed(floor, ready),
    )


def missed(floor: Floor, ready: Sequence[int]) -> frozenset[int]:
    """The pairs that are ready after their promised day."""
    return frozenset(
        pair
        for pair, (day, promise) in enumerate(zip(ready, floor.promised, strict=True))
        if promise is not None and day > promise
    )


def free_beside(floor: Floor, holds: Sequence[Placed]) -> tuple[int, ...]:
    """Per tree the days that these holds leave free."""
    free = list(floor.free)
    for hold in holds:
        free[hold.tree] &= ~hold.days
    return tuple(free)
