"""The bench laid out: jobs, trees, bookings and open days turned into the day numbers that orders
are placed on.

No published standard: the shop's own rule.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from math import ceil

from fitcounter.fit.handbook.bench import HORIZON_DAYS, HOURS_A_DAY
from fitcounter.fit.plan.days import DayTable, day_table
from fitcounter.fit.plan.floor import Floor, Order, Placed, Rhythm, WaitingBoot, shifts_for
from fitcounter.fit.plan.jobs import BenchJob, Booking, Hold, OnTree, Resting, TreeDays


@dataclass(frozen=True, slots=True)
class Bench:
    """The bench in both forms: the records, and the floor their numbers stand for."""

    jobs: tuple[BenchJob, ...]
    trees: tuple[str, ...]
    pairs: tuple[str, ...]
    table: DayTable
    floor: Floor


def laid_out(jobs: Sequence[BenchJob], tree_days: TreeDays) -> Bench:
    """Turn the records into day numbers. Same input, same numbers."""
    table, trees = day_table(tree_days.days), tree_days.trees
    pairs = tuple(dict.fromkeys(job.pair for job in jobs))
    rhythms: dict[tuple[int, int, int], Rhythm] = {}
    boots = []
    for job in jobs:
        beat = (ceil(job.hold_h / HOURS_A_DAY), job.rest_days, job.finishing_days)
        if beat not in rhythms:
            rhythms[beat] = rhythm(table, *beat)
        boots.append(waiting_boot(job, pairs.index(job.pair), trees, table, rhythms[beat]))
    floor = Floor(
        boots=tuple(boots),
        promised=tuple(promised_day(jobs, pair, table) for pair in pairs),
        free=free_days(jobs, trees, table, tree_days.bookings),
        open_from=tuple(table.open_mask >> number for number in range(HORIZON_DAYS)),
        never=table.never,
    )
    return Bench(tuple(jobs), tuple(trees), pairs, table, floor)


def promised_day(jobs: Sequence[BenchJob], pair: str, table: DayTable) -> int | None:
    """The earliest day promised for a boot of this pair; below 0 when it has gone by, None without
    a promise.
    """
    promises = [
        (job.promised - table.today).days
        for job in jobs
        if job.pair == pair and job.promised is not None
    ]
    return min(promises, default=None)


def rhythm(table: DayTable, hold_days: int, rest_days: int, finishing_days: int) -> Rhythm:
    """For every day: when a boot put on that day comes off and is read, and when one read that day
    is ready.
    """
    every_day = range(table.never + 1)
    off_day = tuple(table.open_from(day + hold_days) for day in every_day)
    return Rhythm(
        shifts=shifts_for(hold_days),
        off_day=off_day,
        read_day=tuple(table.open_from(day + rest_days) for day in off_day),
        finish_day=tuple(table.open_from(day + finishing_days) for day in every_day),
    )


def waiting_boot(
    job: BenchJob, pair: int, trees: Sequence[str], table: DayTable, beat: Rhythm
) -> WaitingBoot:
    """One job in day numbers."""
    holds = job.rounds_planned - (0 if job.now is None else 1)
    rested_from = first_reading(job, table)
    return WaitingBoot(
        pair=pair,
        trees=tuple(trees.index(tree) for tree in job.trees if tree in trees),
        rested_from=rested_from,
        ready_from=table.open_from(rested_from + prepares(job)) if holds else rested_from,
        holds=holds,
        rhythm=beat,
    )


def prepares(job: BenchJob) -> int:
    """Days of preparing still to come: only before the first round of all."""
    return job.preparing_days if job.now is None and job.rounds_done == 0 else 0


def first_reading(job: BenchJob, table: DayTable) -> int:
    """The day a round under way is read; without one, the first open day the boot is here."""
    if isinstance(job.now, OnTree):
        return table.open_from(taken_off(job.now, table) + job.rest_days)
    if isinstance(job.now, Resting):
        return table.open_from(table.number(job.now.until))
    return table.open_from(table.number(job.not_before or table.today))


def taken_off(now: OnTree, table: DayTable) -> int:
    """The day a running round comes off: when it is due (today where that has gone by) and the
    bench is open.
    """
    return table.open_from(table.number(now.due_off))


def free_days(
    jobs: Sequence[BenchJob], trees: Sequence[str], table: DayTable, bookings: Sequence[Booking]
) -> tuple[int, ...]:
    """Per tree the free days as bits, running rounds and bookings taken out.

    A booking that begins on a closed day takes the tree from the last open day before: a boot on it
    then could not come off.
    """
    free = dict.fromkeys(trees, (1 << HORIZON_DAYS) - 1)
    taken = [
        (job.now.tree, 0, taken_off(job.now, table)) for job in jobs if isinstance(job.now, OnTree)
    ]
    for booking in bookings:
        first = min(table.number(booking.first), HORIZON_DAYS)
        taken.append(
            (booking.tree, table.open_until(first), max(first, table.number(booking.until)))
        )
    for tree, first, until in taken:
        if tree in free:
            free[tree] &= ~(((1 << (until - first)) - 1) << first)
    return tuple(free.values())


def pairs_in_sequence(bench: Bench) -> list[int]:
    """Pairs in order of promised day (those without one last), then of arrival."""
    arrival = [min(job.arrival for job in bench.jobs if job.pair == pair) for pair in bench.pairs]
    promised = [bench.floor.never if day is None else day for day in bench.floor.promised]
    return sorted(range(len(bench.pairs)), key=lambda pair: (promised[pair], arrival[pair], pair))


def holds_to_keep(bench: Bench, last: Sequence[Hold]) -> list[Placed]:
    """The last plan's holds that are still to come, on trees still in use, `by_day`; for no boot
    more than it still needs.
    """
    number_of = {job.id: number for number, job in enumerate(bench.jobs)}
    tree_of = {tree: number for number, tree in enumerate(bench.trees)}
    coming = [
        Placed(
            number_of[hold.job],
            tree_of[hold.tree],
            bench.table.number(hold.on),
            bench.table.number(hold.off),
        )
        for hold in last
        if hold.job in number_of and hold.tree in tree_of and hold.on >= bench.table.today
        if hold.round > under_way_or_done(bench.jobs[number_of[hold.job]])
    ]
    left = [boot.holds for boot in bench.floor.boots]
    keep: list[Placed] = []
    for hold in by_day(coming):
        if left[hold.boot]:
            left[hold.boot] -= 1
            keep.append(hold)
    return keep


def under_way_or_done(job: BenchJob) -> int:
    """The last round that is not to be planned."""
    return job.rounds_done + (0 if job.now is None else 1)


def by_day(holds: Iterable[Placed]) -> list[Placed]:
    """Holds in the one sequence in which a plan is placed again, however they were kept."""
    return sorted(holds, key=lambda hold: (hold.on, hold.off, hold.tree, hold.boot))


def order_of(bench: Bench, keep: Sequence[Placed]) -> Order:
    """The order these holds stand in, then those that are in none yet, pairs in sequence and their
    boots taking turns.
    """
    left = [boot.holds for boot in bench.floor.boots]
    for hold in keep:
        left[hold.boot] -= 1
    rest = [
        number
        for turn in range(max(left, default=0))
        for number in by_pair(bench)
        if left[number] > turn
    ]
    return [hold.boot for hold in keep] + rest


def by_pair(bench: Bench) -> list[int]:
    """Boot numbers, pairs in sequence."""
    place = {pair: place for place, pair in enumerate(pairs_in_sequence(bench))}
    return sorted(range(len(bench.jobs)), key=lambda number: place[bench.floor.boots[number].pair])
