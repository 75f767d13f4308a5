"""Holds kept where they were, and last holds set late: what an order of earliest days alone cannot
say.

Day numbers, as in `bench_floor`. No published standard.
"""

from __future__ import annotations

from fitcounter.fit.plan.floor import Floor, Moment, Order, Placed, beginning, hold_at, put, runs_of


def place_as_before(floor: Floor, order: Order, keep: list[Placed]) -> tuple[list[Placed], Moment]:
    """Place an order whose first holds are `keep`: each where it was as long as tree, day and boot
    allow, else the earliest.
    """
    start = beginning(floor)
    free, from_day = list(start.free), list(start.from_day)
    placed: list[Placed] = []
    for position, number in enumerate(order):
        hold = (
            hold_at(floor, number, keep[position].tree, keep[position].on)
            if position < len(keep)
            else None
        )
        if hold is not None and can_be(hold, floor, free, from_day[number]):
            free[hold.tree] &= ~hold.days
            from_day[number] = floor.boots[number].rhythm.read_day[hold.on]
        else:
            hold = hold_at(floor, number, *put(floor, number, free, from_day))
        placed.append(hold)
    return placed, Moment(tuple(free), tuple(from_day))


def can_be(hold: Placed, floor: Floor, free: list[int], from_day: int) -> bool:
    """True where this boot may go on that tree that day."""
    if (
        not from_day <= hold.on < len(floor.open_from)
        or hold.tree not in floor.boots[hold.boot].trees
    ):
        return False
    return bool(floor.open_from[hold.on] & 1) and free[hold.tree] & hold.days == hold.days


def set_late(
    floor: Floor, placed: list[Placed], free: tuple[int, ...], ready_by: tuple[int | None, ...]
) -> list[Placed]:
    """Move each boot's last hold as late as its day of being ready allows; None leaves it as early
    as it goes.

    free: the free days once everything is placed. A hold never moves forward, nor onto days another
    boot has.
    """
    bits = list(free)
    last_of = {hold.boot: position for position, hold in enumerate(placed) if hold.tree >= 0}
    moved = placed.copy()
    for number, position in last_of.items():
        limit, hold = ready_by[number], placed[position]
        if limit is None:
            continue
        bits[hold.tree] |= hold.days
        moved[position] = latest(floor, number, hold, bits, limit)
        bits[moved[position].tree] &= ~moved[position].days
    return moved


def latest(floor: Floor, number: int, hold: Placed, free: list[int], ready_by: int) -> Placed:
    """This hold on the latest open day that still has the boot ready by that day; as it was where
    nothing later is free.
    """
    boot = floor.boots[number]
    rhythm = boot.rhythm
    best = hold
    for tree in boot.trees:
        starts = runs_of(free[tree], rhythm.shifts) & floor.open_from[0]
        for day in range(min(ready_by, len(floor.open_from) - 1), best.on, -1):
            if starts >> day & 1 and rhythm.finish_day[rhythm.read_day[day]] <= ready_by:
                best = hold_at(floor, number, tree, day)
                break
    return best
