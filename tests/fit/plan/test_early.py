"""A boot that goes on a tree earlier than planned is never ready later for it: 150 small benches,
every boot on every tree that is free for it today.
"""

from __future__ import annotations

from dataclasses import replace
from datetime import date, timedelta
from math import ceil
from random import Random

from support.plan_cases import TODAY, Case, random_case

from fitcounter.fit.plan.jobs import BenchJob, Hold, OnTree, Plan, TreeDays
from fitcounter.fit.plan.plan import plan

BENCHES = 150


def test_starting_early_never_makes_a_boot_later() -> None:
    random, started, later = Random(14), 0, []
    for number in range(BENCHES):
        case = random_case(random)
        before = case.plan()
        for job, tree in startable(case, before):
            after = started_today(case, before, job, tree)
            was, now = before.boot(job.id), after.boot(job.id)
            started += 1
            if was and (now is None or now.ready > was.ready):
                later.append((number, job.id, tree))
    assert later == []
    assert started > BENCHES / 4


def startable(case: Case, before: Plan) -> list[tuple[BenchJob, str]]:
    """Boots whose next hold is planned for later, with each tree that nothing is on."""
    if not case.days.is_open(TODAY):
        return []
    busy = {job.now.tree for job in case.jobs if isinstance(job.now, OnTree)}
    return [
        (job, tree)
        for job in case.jobs
        if job.now is None and job.not_before is None and job.rounds_planned
        for tree in job.trees
        if tree not in busy and _stays_free(case, tree, job)
        if (boot := before.boot(job.id)) and boot.holds and boot.holds[0].on > TODAY
    ]


def started_today(case: Case, before: Plan, job: BenchJob, tree: str) -> Plan:
    """The bench with this boot on that tree from today, other plans giving way as they do."""
    due = _due(job)
    running = replace(job, now=OnTree(tree, TODAY, due))
    jobs = [running if one.id == job.id else one for one in case.jobs]
    kept = [one for one in before.holds() if not _gone(one, job, tree)]
    return plan(jobs, TreeDays(case.trees, case.days, case.bookings), kept)


def _due(job: BenchJob) -> date:
    return TODAY + timedelta(days=ceil(job.hold_h / 24))


def _gone(hold: Hold, job: BenchJob, tree: str) -> bool:
    own_first = hold.job == job.id and hold.round == job.rounds_done + 1
    return own_first or (hold.tree == tree and hold.on < _due(job) and hold.off > TODAY)


def _stays_free(case: Case, tree: str, job: BenchJob) -> bool:
    """No booking of that tree for another reason begins before the boot is off."""
    return not any(one.tree == tree and one.first < _due(job) for one in case.bookings)
