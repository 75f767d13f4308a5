"""The exact optimum of a small bench, for the plan to be held against.

A time-indexed integer program solved to proven optimality by SciPy's HiGHS (scipy.optimize.milp).
It is written from the rules, on calendar dates, and shares no code with the plan.
"""

from __future__ import annotations

from collections.abc import Iterator
from datetime import timedelta
from math import ceil
from random import Random

import numpy as np
from scipy.optimize import Bounds, LinearConstraint, milp
from scipy.sparse import coo_array
from support.plan_cases import TODAY, Case, broken_rules, random_case

from fitcounter.fit.plan.jobs import BenchJob, OnTree, Resting


class Exact:
    """The integer program of one case.

    Day numbers from today; a start is (boot, round, tree, day on).
    """

    def __init__(self, case: Case, upper: int) -> None:
        self.case = case
        self.upper = upper
        self.pairs = list(dict.fromkeys(job.pair for job in case.jobs))
        self.first = [self.first_day(job) for job in case.jobs]
        self.holds = [job.rounds_planned - (job.now is not None) for job in case.jobs]
        self.least = {
            pair: self.cost(pair, max(self.alone(b) for b in self.boots_of(pair)))
            for pair in self.pairs
        }
        self.starts = [start for boot in range(len(case.jobs)) for start in self.starts_of(boot)]

    def open_from(self, day: int) -> int:
        """The first open day from this one on."""
        while not self.case.days.is_open(TODAY + timedelta(days=day)):
            day += 1
        return day

    def off(self, boot: int, on: int) -> int:
        """Taken off when put on that day; below, read and ready likewise."""
        return self.open_from(on + ceil(self.case.jobs[boot].hold_h / 24))

    def read(self, boot: int, on: int) -> int:
        return self.open_from(self.off(boot, on) + self.case.jobs[boot].rest_days)

    def ready(self, boot: int, read: int) -> int:
        return self.open_from(read + self.case.jobs[boot].finishing_days)

    def first_day(self, job: BenchJob) -> int:
        """The earliest day of its next hold, or of its reading where no hold is left."""
        if isinstance(job.now, OnTree):
            off = self.open_from(max(0, (job.now.due_off - TODAY).days))
            return self.open_from(off + job.rest_days)
        if isinstance(job.now, Resting):
            return self.open_from(max(0, (job.now.until - TODAY).days))
        here = self.open_from(
            0 if job.not_before is None else max(0, (job.not_before - TODAY).days)
        )
        return self.open_from(here + job.preparing_days)

    def boots_of(self, pair: str) -> list[int]:
        return [boot for boot, job in enumerate(self.case.jobs) if job.pair == pair]

    def alone(self, boot: int) -> int:
        """Ready day with every tree free: a lower bound."""
        day = self.first[boot]
        for _ in range(self.holds[boot]):
            day = self.read(boot, day)
        return self.ready(boot, day)

    def cost(self, pair: str, ready: int) -> int:
        promises = [
            (job.promised - TODAY).days
            for job in self.case.jobs
            if job.pair == pair and job.promised
        ]
        return ready + 10 * max([0, *(ready - promise for promise in promises)])

    def starts_of(self, boot: int) -> Iterator[tuple[int, int, str, int]]:
        """Every start that is not already dearer than the upper bound with all other pairs at their
        least.
        """
        job = self.case.jobs[boot]
        room = self.upper - sum(self.least.values()) + self.least[job.pair]
        day = self.first[boot]
        for turn in range(self.holds[boot]):
            on = day
            while True:
                last = on
                for _ in range(turn, self.holds[boot]):
                    last = self.read(boot, last)
                if self.cost(job.pair, self.ready(boot, last)) > room:
                    break
                yield from (
                    (boot, turn, tree, on)
                    for tree in job.trees
                    if self.is_free(tree, on, self.off(boot, on))
                )
                on = self.open_from(on + 1)
            day = self.read(boot, day)

    def is_free(self, tree: str, on: int, off: int) -> bool:
        """No running round and no booking on these days."""
        taken = [
            (0, self.open_from(max(0, (job.now.due_off - TODAY).days)))
            for job in self.case.jobs
            if isinstance(job.now, OnTree) and job.now.tree == tree
        ]
        taken += [
            ((entry.first - TODAY).days, (entry.until - TODAY).days)
            for entry in self.case.bookings
            if entry.tree == tree
        ]
        return all(off <= first or on >= until for first, until in taken)

    def solve(self, limit_s: float = 60.0) -> float | None:
        """The least objective, None where HiGHS did not prove it within the limit.

        Without presolve: with it, HiGHS as SciPy 1.17 has it called a case infeasible for which the
        plan is a solution.
        """
        starts, pairs = self.starts, self.pairs
        columns = len(starts) + 2 * len(pairs)
        rows: list[tuple[dict[int, float], float, float]] = []
        by_turn: dict[tuple[int, int], list[int]] = {}
        for column, (boot, turn, _, _) in enumerate(starts):
            by_turn.setdefault((boot, turn), []).append(column)
        for (boot, turn), own in by_turn.items():
            rows.append((dict.fromkeys(own, 1.0), 1, 1))
            rows += self.after(own, by_turn.get((boot, turn + 1), []), boot)
        rows += self.capacity()
        rows += self.ready_rows(by_turn)
        cost = np.concatenate(
            [np.zeros(len(starts)), np.ones(len(pairs)), np.full(len(pairs), 10.0)]
        )
        upper = np.concatenate([np.ones(len(starts)), np.full(2 * len(pairs), np.inf)])
        whole = np.concatenate([np.ones(len(starts)), np.zeros(2 * len(pairs))])
        data = [(r, c, v) for r, (row, _, _) in enumerate(rows) for c, v in row.items()]
        matrix = coo_array(
            ([v for _, _, v in data], ([r for r, _, _ in data], [c for _, c, _ in data])),
            (len(rows), columns),
        ).tocsr()
        limits = LinearConstraint(
            matrix, [low for _, low, _ in rows], [high for _, _, high in rows]
        )
        found = milp(
            cost,
            integrality=whole,
            bounds=Bounds(0, upper),
            constraints=limits,
            options={"time_limit": limit_s, "mip_rel_gap": 0.0, "presolve": False},
        )
        return float(found.fun) if found.status == 0 else None

    def after(
        self, own: list[int], following: list[int], boot: int
    ) -> Iterator[tuple[dict[int, float], float, float]]:
        """The next hold begins by a day only when this one was read by then."""
        for day in sorted({self.starts[column][3] for column in following}):
            row = {column: 1.0 for column in following if self.starts[column][3] <= day}
            row |= {
                column: -1.0 for column in own if self.read(boot, self.starts[column][3]) <= day
            }
            yield row, -np.inf, 0

    def capacity(self) -> Iterator[tuple[dict[int, float], float, float]]:
        """A tree carries one boot on any day."""
        on_day: dict[tuple[str, int], dict[int, float]] = {}
        for column, (boot, _, tree, on) in enumerate(self.starts):
            for day in range(on, self.off(boot, on)):
                on_day.setdefault((tree, day), {})[column] = 1.0
        return ((row, -np.inf, 1) for row in on_day.values())

    def ready_rows(
        self, by_turn: dict[tuple[int, int], list[int]]
    ) -> Iterator[tuple[dict[int, float], float, float]]:
        """A pair is ready when both boots are, and late by what that is past its promised day."""
        for index, pair in enumerate(self.pairs):
            ready, late = len(self.starts) + index, len(self.starts) + len(self.pairs) + index
            for boot in self.boots_of(pair):
                if not self.holds[boot]:
                    yield {ready: 1.0}, self.ready(boot, self.first[boot]), np.inf
                    continue
                last = by_turn[boot, self.holds[boot] - 1]
                days = {
                    column: -float(self.ready(boot, self.read(boot, self.starts[column][3])))
                    for column in last
                }
                yield {ready: 1.0, **days}, 0, np.inf
            promises = [
                (job.promised - TODAY).days
                for job in self.case.jobs
                if job.pair == pair and job.promised
            ]
            for promise in promises:
                yield {late: 1.0, ready: -1.0}, -promise, np.inf


def ratio(seed: int) -> tuple[int, float | None]:
    """The plan's objective and the exact one of a case, None where that was not proven.

    Raises where the plan breaks a rule.
    """
    case = random_case(Random(seed))
    result = case.plan()
    broken = broken_rules(case, result)
    if broken:
        raise AssertionError(f"case {seed}: {broken}")
    return result.objective, Exact(case, result.objective).solve()
