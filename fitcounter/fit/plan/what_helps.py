"""What would help: a second tree like the one that holds things up, or a shorter hold.

Each is answered by planning again, so an answer is never better than the plan it stands on. No
published standard.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date

from fitcounter.fit.handbook.bench import HORIZON_DAYS, PLACEMENTS, QUESTION_PLACEMENTS
from fitcounter.fit.plan.floor import beginning, place, total
from fitcounter.fit.plan.jobs import BenchJob, Hold, Plan, TreeDays
from fitcounter.fit.plan.layout import holds_to_keep, laid_out, order_of, pairs_in_sequence
from fitcounter.fit.plan.made_late import late_in
from fitcounter.fit.plan.plan import plan
from fitcounter.fit.plan.swaps import best_order, first_orders


@dataclass(frozen=True, slots=True)
class Bottleneck:
    """The tree whose doubling lowers the objective most, and by how much (ready days, late ones ten
    times).
    """

    tree: str
    saves: int


@dataclass(frozen=True, slots=True)
class HoldOption:
    """Another hold for one boot, with the rounds `forecast` gives for it (as Job has them)."""

    hold_h: float
    rounds_likely: int | None
    rounds_promise: int | None


@dataclass(frozen=True, slots=True)
class HoldProposal:
    """A shorter hold worth proposing: the pair's promise day with it, and the days that saves (1 or
    more).
    """

    hold_h: float
    hope: date
    promise: date
    saves_days: int


def bottleneck(
    jobs: Sequence[BenchJob],
    tree_days: TreeDays,
    last: Sequence[Hold] = (),
) -> Bottleneck | None:
    """The tree the bench would most like to have twice; None where a second one of any kind would
    help nobody.

    With a double of each tree in turn, the plan's own order is placed again and swapped a little:
    enough to compare trees.
    """
    bench = laid_out(jobs, tree_days)
    known = order_of(bench, holds_to_keep(bench, last))
    pairs = pairs_in_sequence(bench)
    order = best_order(bench.floor, [known, *first_orders(bench.floor, pairs)], PLACEMENTS)
    alone = total(bench.floor, place(bench.floor, order, beginning(bench.floor))[1][-1].from_day)
    best: Bottleneck | None = None
    for number, tree in enumerate(bench.trees):
        double = len(bench.trees)
        boots = tuple(
            replace(boot, trees=(*boot.trees, double)) if number in boot.trees else boot
            for boot in bench.floor.boots
        )
        free = (*bench.floor.free, (1 << HORIZON_DAYS) - 1)
        floor = replace(bench.floor, boots=boots, free=free)
        orders = [order, *first_orders(floor, pairs)]
        doubled = best_order(floor, orders, QUESTION_PLACEMENTS)
        saves = alone - total(floor, place(floor, doubled, beginning(floor))[1][-1].from_day)
        if saves > (best.saves if best else 0):
            best = Bottleneck(tree, saves)
    return best


def shorter_hold(
    jobs: Sequence[BenchJob],
    tree_days: TreeDays,
    pair: str,
    options: Mapping[str, Sequence[HoldOption]],
    before: Plan | None = None,
) -> HoldProposal | None:
    """The hold to propose when trees are short: None while no boot of the pair waits for one and it
    is not late.

    options: job id → other holds, the same for both boots, with the rounds each needs. The longest
    hold that keeps the promise wins; without a promise, or where none keeps it, the one with the
    earliest day. It must save a day and make nobody late.
    before: the plan as it stands, made here where it is not given; each hold is tried with a
    shorter search than that.
    """
    before = before or plan(jobs, tree_days)
    now = before.pair(pair)
    waiting = any(boot.waits_days for boot in before.boots if boot.pair == pair)
    if now is None or not (waiting or now.late_days):
        return None
    proposals: list[HoldProposal] = []
    for hold_h in sorted(
        {option.hold_h for choices in options.values() for option in choices}, reverse=True
    ):
        trial = plan(
            [with_hold(job, hold_h, options) for job in jobs],
            tree_days,
            before.holds(),
            QUESTION_PLACEMENTS,
        )
        entry = trial.pair(pair)
        if entry is None or entry.ready >= now.ready or late_in(before, trial, pair):
            continue
        proposals.append(
            HoldProposal(hold_h, entry.hope, entry.ready, (now.ready - entry.ready).days)
        )
        if now.promised is not None and entry.late_days == 0:
            return proposals[-1]
    return min(proposals, key=lambda proposal: (proposal.promise, -proposal.hold_h), default=None)


def with_hold(
    job: BenchJob, hold_h: float, options: Mapping[str, Sequence[HoldOption]]
) -> BenchJob:
    """This job with another hold and the rounds that takes, where it has that option."""
    for option in options.get(job.id, ()):
        if option.hold_h == hold_h and hold_h < job.hold_h:
            return replace(
                job,
                hold_h=hold_h,
                rounds_likely=option.rounds_likely,
                rounds_promise=option.rounds_promise,
            )
    return job
