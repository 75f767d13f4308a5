"""The bench plan: which boot is on which tree on which day, and when each pair is ready.

A date is a claim on a tree. Records in, records out (`bench_jobs`). In between, `bench_layout`
turns days into numbers, `bench_floor` places an order of holds and `bench_swaps` looks for a better
order. The questions asked of a plan are in `bench_questions`. No published standard: the shop's own
rule.
"""

from __future__ import annotations

from collections.abc import Sequence

from fitcounter.errors import message
from fitcounter.fit.handbook.bench import HOURS_A_DAY, PLACEMENTS
from fitcounter.fit.plan.days import DayTable
from fitcounter.fit.plan.floor import Placed, WaitingBoot
from fitcounter.fit.plan.jobs import (
    BenchJob,
    BootPlan,
    Hold,
    PairPlan,
    Plan,
    PlanStep,
    Resting,
    TreeDays,
)
from fitcounter.fit.plan.layout import Bench, laid_out, prepares, taken_off
from fitcounter.fit.plan.settled import Settled, settled_on


def plan(
    jobs: Sequence[BenchJob],
    tree_days: TreeDays,
    last: Sequence[Hold] = (),
    placements: int = PLACEMENTS,
) -> Plan:
    """Plan every boot on whole shop days.

    tree_days: the trees and days they are planned on. last: the holds of the last plan. They stay
    where they were unless an order is found with fewer days late, or as few and a lower objective,
    that makes no boot later which went on a tree today, nor a pair late while nobody is new: a
    promised day keeps its trees, and starting early delays nothing.
    Planned once more with its own holds as `last`, a bench that has not changed gives this very
    plan again: nobody is told two days.
    placements: how many holds may be placed while looking for that order.
    On, off, reading, preparing and finishing fall on open days; a hold is at least ceil(hold_h /
    24) days, longer where the day of taking off is closed; a tree carries one boot at a time;
    running rounds stay. Want of trees is no error: a boot without one is in `unplanned`, with a
    sentence.
    """
    bench = laid_out(jobs, tree_days)
    ready_by = tuple(set_late_until(job, bench.table) for job in bench.jobs)
    return written_out(bench, settled_on(bench, ready_by, last, placements), ready_by)


def written_out(bench: Bench, settled: Settled, ready_by: tuple[int | None, ...]) -> Plan:
    """Write settled holds as dates."""
    boots: list[BootPlan] = []
    unplanned: list[tuple[str, str]] = []
    for number, job in enumerate(bench.jobs):
        if settled.read_days[number] >= bench.table.never:
            unplanned.append((job.id, why_not(bench, number)))
        else:
            own = [hold for hold in settled.holds if hold.boot == number]
            boot, days_on = bench.floor.boots[number], [hold.on for hold in own]
            boots.append(boot_plan(bench, number, own, waits(boot, days_on, ready_by[number])))
    return Plan(
        bench.table.today,
        tuple(boots),
        pair_plans(bench, boots),
        tuple(unplanned),
        settled.objective,
    )


def waits(boot: WaitingBoot, days_on: list[int], ready_by: int | None) -> int:
    """Days a boot waits for trees: from when it could go on to when it does, over its holds.

    ready_by: the day its last hold is set late against. A hold in time for it waits for no tree.
    """
    could = [boot.ready_from, *(boot.rhythm.read_day[day] for day in days_on)]
    if days_on and ready_by is not None:
        rhythm = boot.rhythm
        if rhythm.finish_day[rhythm.read_day[days_on[-1]]] <= ready_by:
            days_on = days_on[:-1]
    return sum(day - earliest for day, earliest in zip(days_on, could, strict=False))


def set_late_until(job: BenchJob, table: DayTable) -> int | None:
    """The day the boot is to be ready on when its last hold is set late, None when it is not."""
    if job.pickup is None:
        return None
    return table.number(min(job.pickup, job.promised or job.pickup))


def why_not(bench: Bench, number: int) -> str:
    """One sentence why a boot has no days."""
    if not bench.floor.boots[number].trees:
        return message("No tree in use fits this boot.")
    return message("No tree is free for this boot within a year.")


def boot_plan(bench: Bench, number: int, placed: list[Placed], waits_days: int) -> BootPlan:
    """One boot's steps, holds and two dates."""
    job, boot, table = bench.jobs[number], bench.floor.boots[number], bench.table
    first_round = job.rounds_done + 1
    steps, holds, read = under_way(job, boot.rested_from, table)
    for turn, hold in enumerate(placed, start=first_round + (0 if job.now is None else 1)):
        if turn == first_round and prepares(job):
            steps.append(PlanStep("prepare", table.date(table.open_until(hold.on - prepares(job)))))
        tree, on, off = bench.trees[hold.tree], table.date(hold.on), table.date(hold.off)
        holds.append(Hold(job.id, tree, turn, on, off, HOURS_A_DAY * (hold.off - hold.on)))
        read.append(boot.rhythm.read_day[hold.on])
        steps += [
            PlanStep("on", on, tree, turn),
            PlanStep("off", off, tree, turn),
            PlanStep("read", table.date(read[-1]), None, turn),
        ]
    ready = table.date(boot.rhythm.finish_day[read[-1]])
    hope = table.date(boot.rhythm.finish_day[read[job.rounds_hoped]])
    if job.finishing_days:
        steps.append(PlanStep("finish", ready))
    steps.append(PlanStep("shaper", ready))
    return BootPlan(job.id, job.pair, job.side, tuple(steps), tuple(holds), hope, ready, waits_days)


def under_way(
    job: BenchJob, rested_from: int, table: DayTable
) -> tuple[list[PlanStep], list[Hold], list[int]]:
    """Steps and hold of a round that is running or resting; and the days it may be ready from: at 0
    rounds, then at 1.
    """
    turn, now = job.rounds_done + 1, job.now
    if now is None:
        return [], [], [rested_from]
    steps = [PlanStep("read", table.date(rested_from), None, turn)]
    if isinstance(now, Resting):
        return steps, [], [rested_from, rested_from]
    off = table.date(taken_off(now, table))
    hold = Hold(job.id, now.tree, turn, now.since, off, HOURS_A_DAY * (off - now.since).days)
    return [PlanStep("off", off, now.tree, turn), *steps], [hold], [rested_from, rested_from]


def pair_plans(bench: Bench, boots: Sequence[BootPlan]) -> tuple[PairPlan, ...]:
    """Each pair with all its boots planned: the later of both."""
    pairs: list[PairPlan] = []
    for pair, promise in zip(bench.pairs, bench.floor.promised, strict=True):
        own = [boot for boot in boots if boot.pair == pair]
        if len(own) < sum(job.pair == pair for job in bench.jobs):
            continue
        ready = max(boot.ready for boot in own)
        promised = None if promise is None else bench.table.date(promise)
        late_days = 0 if promised is None else max(0, (ready - promised).days)
        pairs.append(PairPlan(pair, max(boot.hope for boot in own), ready, promised, late_days))
    return tuple(pairs)
