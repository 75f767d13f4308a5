"""The bench in day numbers: boots waiting for holds, free days of each tree, and how an order of
holds becomes days.

An order is a list of boot numbers; the k-th time a boot occurs is its k-th hold. Each hold in turn
takes the earliest free days of any tree that serves. Free days are kept as bits of one integer per
tree, so that "free for so many days running" is a few shifts. No published standard.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from fitcounter.fit.handbook.shop import LATE_WEIGHT

Order = list[int]


@dataclass(frozen=True, slots=True)
class Rhythm:
    """How holds of one length run over the open days.

    shifts: see shifts_for, of the least days of a hold. off_day[d], read_day[d]: taken off and read
    when put on on day d. finish_day[d]: ready when read on day d.
    """

    shifts: tuple[int, ...]
    off_day: tuple[int, ...]
    read_day: tuple[int, ...]
    finish_day: tuple[int, ...]


@dataclass(frozen=True, slots=True)
class WaitingBoot:
    """One boot, all in day numbers.

    pair: index of its pair. trees: indexes of the trees that serve, best first. rested_from: the
    day a round under way is read, otherwise the first day it is here. ready_from: the first day its
    next hold may begin. holds: how many are still to be placed.
    """

    pair: int
    trees: tuple[int, ...]
    rested_from: int
    ready_from: int
    holds: int
    rhythm: Rhythm


@dataclass(frozen=True, slots=True)
class Floor:
    """Everything an order is placed on.

    free: per tree, bit d set when day d is free. promised: per pair, day number or None.
    """

    boots: tuple[WaitingBoot, ...]
    promised: tuple[int | None, ...]
    free: tuple[int, ...]
    open_from: tuple[int, ...]
    never: int


@dataclass(frozen=True, slots=True)
class Placed:
    """One hold in its place: boot and tree indexes, day on and day off; tree −1 and both days
    `never` where none is free.
    """

    boot: int
    tree: int
    on: int
    off: int

    @property
    def days(self) -> int:
        """Its days as bits."""
        return ((1 << (self.off - self.on)) - 1) << self.on


@dataclass(frozen=True, slots=True)
class Moment:
    """The floor before one hold of an order is placed: what is free, and from when each boot may go
    on, and was read.
    """

    free: tuple[int, ...]
    from_day: tuple[int, ...]


def shifts_for(days: int) -> tuple[int, ...]:
    """The shifts that turn free days into days free for so many days running: for 7, by 1, 2 and 3.

    days is 1 or more.
    """
    shifts: list[int] = []
    covered = 1
    while covered < days:
        shifts.append(min(covered, days - covered))
        covered += shifts[-1]
    return tuple(shifts)


def runs_of(free: int, shifts: tuple[int, ...]) -> int:
    """The days a hold may begin on as far as one tree's free days go, closed days not yet left
    out.
    """
    for shift in shifts:
        free &= free >> shift
    return free


def earliest(floor: Floor, boot: WaitingBoot, free: list[int], from_day: int) -> tuple[int, int]:
    """The tree and the first open day it is free for this boot's hold, (−1, never) where there is
    none. Ties: the better tree.
    """
    best_tree, best_day = -1, floor.never
    if from_day >= len(floor.open_from):
        return best_tree, best_day
    open_days = floor.open_from[from_day]
    for tree in boot.trees:
        starts = runs_of(free[tree] >> from_day, boot.rhythm.shifts) & open_days
        if starts:
            day = from_day + (starts & -starts).bit_length() - 1
            if day < best_day:
                best_tree, best_day = tree, day
                if day == from_day:
                    break
    return best_tree, best_day


def beginning(floor: Floor) -> Moment:
    """The floor before anything is placed."""
    return Moment(floor.free, tuple(boot.ready_from for boot in floor.boots))


def place(
    floor: Floor, order: Order, start: Moment, position: int = 0
) -> tuple[list[Placed], list[Moment]]:
    """Place the order from this position on; the moments are those before each hold, and one after
    the last.
    """
    free, from_day = list(start.free), list(start.from_day)
    placed: list[Placed] = []
    moments = [start]
    for number in order[position:]:
        placed.append(hold_at(floor, number, *put(floor, number, free, from_day)))
        moments.append(Moment(tuple(free), tuple(from_day)))
    return placed, moments


def put(floor: Floor, number: int, free: list[int], from_day: list[int]) -> tuple[int, int]:
    """Place one hold on the earliest free days: (tree, day on).

    Changes what is free, and from when the boot may go on again.
    """
    boot = floor.boots[number]
    tree, on = earliest(floor, boot, free, from_day[number])
    if tree < 0:
        from_day[number] = floor.never
    else:
        free[tree] &= ~(((1 << (boot.rhythm.off_day[on] - on)) - 1) << on)
        from_day[number] = boot.rhythm.read_day[on]
    return tree, on


def hold_at(floor: Floor, number: int, tree: int, on: int) -> Placed:
    """The hold of a boot that goes on a tree that day."""
    return Placed(number, tree, on, floor.boots[number].rhythm.off_day[on])


def ready_days(floor: Floor, read_days: Sequence[int]) -> list[int]:
    """The day each pair is ready when its boots are read for the last time on these days."""
    ready = [0] * len(floor.promised)
    for boot, read in zip(floor.boots, read_days, strict=True):
        ready[boot.pair] = max(ready[boot.pair], boot.rhythm.finish_day[read])
    return ready


def days_late(floor: Floor, ready: Sequence[int]) -> int:
    """Days past the promised ones, over all pairs."""
    return sum(
        day - promise
        for day, promise in zip(ready, floor.promised, strict=True)
        if promise is not None and day > promise
    )


def total(floor: Floor, read_days: Sequence[int]) -> int:
    """The objective: over pairs, ready day + 10 × days late, when the boots are read for the last
    time on these days.
    """
    ready = ready_days(floor, read_days)
    return sum(ready) + LATE_WEIGHT * days_late(floor, ready)
