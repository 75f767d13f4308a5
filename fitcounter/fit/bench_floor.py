"""The bench in day numbers: boots waiting for holds, free days of each tree, and how an order of holds becomes days.

An order is a list of boot numbers; the k-th time a boot occurs is its k-th hold. Each hold in turn takes the earliest free
days of any tree that serves. Free days are kept as bits of one integer per tree, so that "free for so many days running" is a
few shifts. No published standard.
"""

from __future__ import annotations

from dataclasses import dataclass

from fitcounter.fit.handbook_shop import LATE_WEIGHT

Order = list[int]


@dataclass(frozen=True, slots=True)
class Rhythm:
    """How holds of one length run over the open days.

    hold_days: at least so many. off_day[d], read_day[d]: taken off and read when put on on day d. finish_day[d]: ready when
    read on day d.
    """

    hold_days: int
    off_day: tuple[int, ...]
    read_day: tuple[int, ...]
    finish_day: tuple[int, ...]


@dataclass(frozen=True, slots=True)
class WaitingBoot:
    """One boot, all in day numbers.

    pair: index of its pair. trees: indexes of the trees that serve, best first. rested_from: the day a round under way is read,
    otherwise the first day it is here. ready_from: the first day its next hold may begin. holds: how many are still to be placed.
    """

    pair: int
    trees: tuple[int, ...]
    rested_from: int
    ready_from: int
    holds: int
    rhythm: Rhythm


@dataclass(frozen=True, slots=True)
class Floor:
    """Everything an order is placed on. free: per tree, bit d set when day d is free. promised: per pair, day number or None."""

    boots: tuple[WaitingBoot, ...]
    promised: tuple[int | None, ...]
    free: tuple[int, ...]
    open_from: tuple[int, ...]
    never: int


@dataclass(frozen=True, slots=True)
class Placed:
    """One hold in its place: boot and tree indexes, day on and day off; tree −1 and day `never` where none is free."""

    boot: int
    tree: int
    on: int
    off: int


@dataclass(frozen=True, slots=True)
class Moment:
    """The floor before one hold of an order is placed: what is free, and from when each boot may go on, and was read."""

    free: tuple[int, ...]
    from_day: tuple[int, ...]


def runs_of(free: int, days: int) -> int:
    """The days from which a tree is free for so many days running, as bits; days is 1 or more."""
    covered = 1
    while covered * 2 <= days:
        free &= free >> covered
        covered *= 2
    return free & (free >> (days - covered))


def earliest(floor: Floor, boot: WaitingBoot, free: list[int], from_day: int) -> tuple[int, int]:
    """The tree and the first open day it is free for this boot's hold, (−1, never) where there is none. Ties: the better tree."""
    best_tree, best_day = -1, floor.never
    if from_day >= len(floor.open_from):
        return best_tree, best_day
    open_days = floor.open_from[from_day]
    for tree in boot.trees:
        starts = runs_of(free[tree] >> from_day, boot.rhythm.hold_days) & open_days
        if starts:
            day = from_day + (starts & -starts).bit_length() - 1
            if day < best_day:
                best_tree, best_day = tree, day
    return best_tree, best_day


def beginning(floor: Floor) -> Moment:
    """The floor before anything is placed."""
    return Moment(floor.free, tuple(boot.ready_from for boot in floor.boots))


def place(floor: Floor, order: Order, start: Moment, position: int = 0) -> tuple[list[Placed], list[Moment]]:
    """Place the order from this position on; the moments are those before each hold, and one after the last."""
    free, from_day = list(start.free), list(start.from_day)
    placed: list[Placed] = []
    moments = [start]
    for number in order[position:]:
        placed.append(put(floor, number, free, from_day))
        moments.append(Moment(tuple(free), tuple(from_day)))
    return placed, moments


def put(floor: Floor, number: int, free: list[int], from_day: list[int]) -> Placed:
    """Place one hold and change what is free and when the boot was read."""
    boot = floor.boots[number]
    tree, on = earliest(floor, boot, free, from_day[number])
    if tree < 0:
        from_day[number] = floor.never
        return Placed(number, -1, floor.never, floor.never)
    off = boot.rhythm.off_day[on]
    free[tree] &= ~(((1 << (off - on)) - 1) << on)
    from_day[number] = boot.rhythm.read_day[on]
    return Placed(number, tree, on, off)


def total(floor: Floor, read_days: tuple[int, ...] | list[int]) -> int:
    """The objective: over pairs, ready day + 10 × days late, when the boots are read for the last time on these days."""
    ready = [0] * len(floor.promised)
    for boot, read in zip(floor.boots, read_days, strict=True):
        day = boot.rhythm.finish_day[read]
        if day > ready[boot.pair]:
            ready[boot.pair] = day
    late = sum(day - promise for day, promise in zip(ready, floor.promised, strict=True) if promise is not None and day > promise)
    return sum(ready) + LATE_WEIGHT * late


def set_late(floor: Floor, placed: list[Placed], free: tuple[int, ...], ready_by: tuple[int | None, ...]) -> list[Placed]:
    """Move each boot's last hold as late as its day of being ready allows; None leaves it as early as it goes.

    free: the free days once everything is placed. A hold never moves forward, nor onto days another boot has.
    """
    bits = list(free)
    last_of = {hold.boot: position for position, hold in enumerate(placed) if hold.tree >= 0}
    moved = placed.copy()
    for number, position in last_of.items():
        limit, hold = ready_by[number], placed[position]
        if limit is None:
            continue
        bits[hold.tree] |= ((1 << (hold.off - hold.on)) - 1) << hold.on
        moved[position] = latest(floor, number, hold, bits, limit)
        bits[moved[position].tree] &= ~(((1 << (moved[position].off - moved[position].on)) - 1) << moved[position].on)
    return moved


def latest(floor: Floor, number: int, hold: Placed, free: list[int], ready_by: int) -> Placed:
    """This hold on the latest open day that still has the boot ready by that day; as it was where nothing later is free."""
    boot = floor.boots[number]
    rhythm = boot.rhythm
    best = hold
    for tree in boot.trees:
        starts = runs_of(free[tree], rhythm.hold_days) & floor.open_from[0]
        for day in range(min(ready_by, len(floor.open_from) - 1), best.on, -1):
            if starts >> day & 1 and rhythm.finish_day[rhythm.read_day[day]] <= ready_by:
                best = Placed(number, tree, day, rhythm.off_day[day])
                break
    return best
