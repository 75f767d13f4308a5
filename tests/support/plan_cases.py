"""Random small benches, and the rules of the bench checked on a plan from outside: on dates, with
no code of the plan's.

For the tests of the plan, and for the measurement of how far it is from the optimum.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from datetime import date, timedelta
from itertools import pairwise
from math import ceil
from random import Random

from fitcounter.fit.plan.days import OpenDays
from fitcounter.fit.plan.jobs import BenchJob, Booking, BootPlan, OnTree, Plan, Resting, TreeDays
from fitcounter.fit.plan.plan import plan

TODAY = date(2026, 11, 25)


@dataclass(frozen=True)
class Case:
    """One bench: at most 6 boots and 3 trees."""

    jobs: list[BenchJob]
    trees: list[str]
    days: OpenDays
    bookings: list[Booking]

    def plan(self) -> Plan:
        """The plan under test."""
        return plan(self.jobs, TreeDays(self.trees, self.days, self.bookings))


def random_case(random: Random, most_pairs: int = 3) -> Case:
    """A small bench with everything that can be on one: running rounds, rests, promises, slots,
    bookings, closed days.
    """
    trees = {
        name: random.choice(["left", "right", "either"])
        for name in ["A", "B", "C"][: random.randint(1, 3)]
    }
    trees["A"] = trees["A"] if len(trees) > 1 else "either"
    weekdays = random.choice(
        [frozenset(range(7)), frozenset(range(6)), frozenset(range(5)), frozenset({1, 2, 3, 4, 5})]
    )
    closed = frozenset(
        TODAY + timedelta(days=random.randint(0, 20)) for _ in range(random.randint(0, 2))
    )
    away = (
        ((TODAY + timedelta(days=9), TODAY + timedelta(days=11)),) if random.random() < 0.2 else ()
    )
    days = OpenDays(TODAY, weekdays, closed, away)
    jobs: list[BenchJob] = []
    free = list(trees)
    for pair in range(random.randint(1, most_pairs)):
        jobs += [with_a_state(random, job, free) for job in random_pair(random, pair, trees)]
    first = TODAY + timedelta(days=random.randint(0, 12))
    booked = [
        Booking(name, first, first + timedelta(days=random.randint(1, 5)))
        for name in free
        if random.random() < 0.3
    ]
    return Case(jobs, list(trees), days, booked)


def random_pair(random: Random, pair: int, trees: dict[str, str]) -> list[BenchJob]:
    """Two boots, now and then one, with the trees that are made for their side."""
    hold_h = random.choice([24, 48, 72, 168])
    promised = TODAY + timedelta(days=random.randint(3, 30)) if random.random() < 0.5 else None
    not_before = TODAY + timedelta(days=random.randint(1, 10)) if random.random() < 0.2 else None
    work = random.choice([0, 1])
    sides = ["left", "right"] if random.random() < 0.8 else [random.choice(["left", "right"])]
    jobs = []
    for side in sides:
        serving = tuple(
            name for name, made_for in trees.items() if made_for in (side, "either")
        ) or ("A",)
        rounds = random.randint(1, 3)
        likely = random.randint(1, rounds)
        job = BenchJob(
            f"{pair}{side}",
            f"{pair}",
            side,
            pair,
            serving,
            likely,
            rounds,
            4,
            hold_h,
            random.choice([1, 1, 2]),
            work,
            work,
        )
        jobs.append(replace(job, promised=promised, not_before=not_before))
    return jobs


def with_a_state(random: Random, job: BenchJob, free: list[str]) -> BenchJob:
    """Now and then the boot is on a tree that nothing else is on, or resting."""
    draw = random.random()
    due = TODAY + timedelta(days=random.randint(-1, 5))
    if draw < 0.2 and free and job.trees[0] in free:
        free.remove(job.trees[0])
        return replace(
            job, now=OnTree(job.trees[0], TODAY - timedelta(days=2), due), not_before=None
        )
    if draw < 0.3:
        return replace(job, now=Resting(due), not_before=None)
    return job


def broken_rules(case: Case, result: Plan) -> list[str]:
    """Every rule of the bench the plan breaks, in words; an empty list is a sound plan."""
    broken = double_bookings(case, result)
    jobs = {job.id: job for job in case.jobs}
    for boot in result.boots:
        broken += [f"{boot.job}: {word}" for word in broken_by_boot(case, jobs[boot.job], boot)]
    if {boot.job for boot in result.boots} | {job for job, _ in result.unplanned} != set(jobs):
        broken.append("a boot is neither planned nor unplanned")
    for entry in result.pairs:
        ready = [boot.ready for boot in result.boots if boot.pair == entry.pair]
        if entry.ready != max(ready) or entry.hope > entry.ready:
            broken.append(f"pair {entry.pair}: its days are not those of its boots")
    pickups = any(job.pickup for job in case.jobs)
    summed = sum((entry.ready - TODAY).days + 10 * entry.late_days for entry in result.pairs)
    if not result.unplanned and not pickups and summed != result.objective:
        broken.append(f"objective {result.objective} is not the sum {summed}")
    return broken


def double_bookings(case: Case, result: Plan) -> list[str]:
    """Two holds, or a hold and a booking, on one tree at one time."""
    taken = [(hold.tree, hold.on, hold.off, hold.job) for hold in result.holds()]
    taken += [
        (entry.tree, entry.first, entry.until, "a booking")
        for entry in case.bookings
        if entry.first < entry.until
    ]
    taken.sort(key=lambda entry: (entry[0], entry[1]))
    return [
        f"{b[3]} is on {b[0]} while {a[3]} is"
        for a, b in pairwise(taken)
        if a[0] == b[0] and b[1] < a[2]
    ]


def broken_by_boot(case: Case, job: BenchJob, boot: BootPlan) -> list[str]:
    """The rules of one boot's own days."""
    broken = [
        f"{step.kind} on a closed day"
        for step in boot.steps
        if step.kind != "shaper" and not case.days.is_open(step.day)
    ]
    broken += ["a step before today"] * any(step.day < case.days.today for step in boot.steps)
    broken += ["steps out of order"] * any(b.day < a.day for a, b in pairwise(boot.steps))
    running = [hold for hold in boot.holds if hold.on < case.days.today]
    coming = [hold for hold in boot.holds if hold.on >= case.days.today]
    broken += ["the running round was moved"] * (bool(running) != isinstance(job.now, OnTree))
    broken += ["wrong number of rounds"] * (
        len(coming) + (job.now is not None) != job.rounds_planned
    )
    broken += ["a tree that does not serve"] * any(hold.tree not in job.trees for hold in coming)
    read = {step.round: step.day for step in boot.steps if step.kind == "read"}
    for hold in coming:
        due = hold.on + timedelta(days=ceil(job.hold_h / 24))
        broken += ["off too early"] * (hold.off < due)
        overdue = [due + timedelta(days=day) for day in range((hold.off - due).days)]
        broken += ["off later than the first open day"] * any(
            case.days.is_open(day) for day in overdue
        )
        broken += ["read without its rest"] * (
            read[hold.round] < hold.off + timedelta(days=job.rest_days)
        )
        broken += ["on before it was read"] * (
            hold.round - 1 in read and hold.on < read[hold.round - 1]
        )
        broken += ["on before it is here"] * (
            job.not_before is not None and job.now is None and hold.on < job.not_before
        )
    for step in boot.steps:
        if step.kind == "prepare":
            broken += ["not prepared in time"] * any(
                hold.on < step.day + timedelta(days=job.preparing_days) for hold in coming
            )
            broken += ["prepared before it is here"] * (
                job.not_before is not None and step.day < job.not_before
            )
    last = max(read.values(), default=case.days.today)
    return broken + ["ready before it is finished"] * (
        boot.ready < last + timedelta(days=job.finishing_days)
    )
