"""How long the bench plan takes for 40 boots, 12 trees and 60 days, beside one bare greedy pass
over the same bench.

`python tests/bench/plan_speed.py`

Milliseconds of this process's own work, so that whatever else runs on the machine does not count.
"""

from __future__ import annotations

import sys
from datetime import date, timedelta
from random import Random
from time import process_time

import checkout_path  # noqa: F401 - finds the next

from fitcounter.fit.plan.days import OpenDays
from fitcounter.fit.plan.jobs import BenchJob, OnTree, TreeDays
from fitcounter.fit.plan.plan import plan

TODAY = date(2026, 11, 25)
DAYS = OpenDays(
    TODAY,
    frozenset(range(6)),
    frozenset({date(2026, 11, 26), date(2026, 12, 25), date(2027, 1, 1)}),
)
SIDES = {
    f"{side[0].upper()}{number}": side for side in ("left", "right") for number in range(1, 6)
} | {"E1": "either", "E2": "either"}
LIMIT_MS = 250


def full_bench(seed: int = 1, hold_h: float = 72) -> list[BenchJob]:
    """20 pairs on 12 trees: some running, most promised within the 60 days, one to four rounds
    each.
    """
    random = Random(seed)
    jobs = []
    free = list(SIDES)
    for pair in range(20):
        promised = TODAY + timedelta(days=random.randint(8, 60)) if random.random() < 0.8 else None
        for side in ("left", "right"):
            serving = [tree for tree, made_for in SIDES.items() if made_for in (side, "either")]
            trees = tuple(random.sample(serving, random.randint(2, len(serving))))
            now = None
            if pair < 4 and trees[0] in free:
                free.remove(trees[0])
                now = OnTree(
                    trees[0],
                    TODAY - timedelta(days=2),
                    TODAY + timedelta(days=random.randint(0, 3)),
                )
            rounds = random.randint(1, 4)
            jobs.append(
                BenchJob(
                    f"{pair}{side}",
                    f"{pair}",
                    side,
                    pair,
                    trees,
                    max(1, rounds - 1),
                    rounds,
                    4,
                    hold_h,
                    promised=promised,
                    now=now,
                )
            )
    return jobs


def greedy_ms(jobs: list[BenchJob]) -> float:
    """The bare counterpart: one pass, each boot's holds one after the other on the first tree free,
    on plain lists of days.
    """
    began = process_time()
    taken: dict[str, set[int]] = {tree: set() for tree in SIDES}
    is_open = [DAYS.is_open(TODAY + timedelta(days=day)) for day in range(500)]
    for job in jobs:
        day = 0
        for _ in range(job.rounds_planned):
            while not is_open[day] or not (
                tree := next((t for t in job.trees if not taken[t] & {*range(day, day + 3)}), "")
            ):
                day += 1
            taken[tree] |= {*range(day, day + 3)}
            day += 4
    return (process_time() - began) * 1000


def best_of(times: int, jobs: list[BenchJob]) -> tuple[float, int]:
    """Shortest time in ms of so many plans, and the objective they reach."""
    shortest, objective = float("inf"), 0
    for _ in range(times):
        began = process_time()
        objective = plan(jobs, TreeDays(list(SIDES), DAYS)).objective
        shortest = min(shortest, (process_time() - began) * 1000)
    return shortest, objective


def main() -> int:
    """Print the three measured benches; 1 where one is over the limit."""
    over = 0
    for seed, hold_h in ((1, 72), (2, 72), (3, 168)):
        jobs = full_bench(seed, hold_h)
        took, objective = best_of(3, jobs)
        bare = min(greedy_ms(jobs) for _ in range(5))
        days = (
            max(entry.ready for entry in plan(jobs, TreeDays(list(SIDES), DAYS)).pairs) - TODAY
        ).days
        over += took > LIMIT_MS
        verdict = "within" if took <= LIMIT_MS else "OVER"
        print(
            f"{len(jobs)} boots, {len(SIDES)} trees, {days} days: {took:.0f} ms ({verdict}"
            f" {LIMIT_MS} ms), ",
            end="",
        )
        print(f"{took / bare:.0f} × one greedy pass of {bare:.2f} ms; objective {objective}")
    return min(over, 1)


if __name__ == "__main__":
    sys.exit(main())
