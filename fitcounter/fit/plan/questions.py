"""Questions asked of the bench plan: two dates for a new pair, who becomes late, which tree holds
things up, a shorter hold.

Each is answered by planning again, so an answer is never better than the plan it stands on. No
published standard.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date

from fitcounter.fit.handbook.bench import HORIZON_DAYS, PLACEMENTS, QUESTION_PLACEMENTS
from fitcounter.fit.plan.days import OpenDays
from fitcounter.fit.plan.floor import beginning, place, total
from fitcounter.fit.plan.jobs import BenchJob, Booking, Hold, PairPlan, Plan
from fitcounter.fit.plan.layout import holds_to_keep, laid_out, order_of, pairs_in_sequence
from fitcounter.fit.plan.plan import plan
from fitcounter.fit.plan.swaps import best_order, first_orders


@dataclass(frozen=True, slots=True)
class TwoDates:
    """A new pair's dates: hope if the likely rounds do, promise if eight in ten do (only that one
    is printed).

    Both stand on the same reserved trees. None where a boot cannot be planned; plan.unplanned says
    why.
    late: pairs that become late because of the new one.
    """

    hope: date | None
    promise: date | None
    late: tuple[PairPlan, ...]
    plan: Plan


@dataclass(frozen=True, slots=True)
class Moved:
    """A pair whose ready day changes.

    breaks_promise: it is late now by more than before, so ask before saving.
    """

    pair: str
    promised: date | None
    was: date
    becomes: date
    breaks_promise: bool


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


def two_dates(
    jobs: Sequence[BenchJob],
    trees: Sequence[str],
    days: OpenDays,
    new: Sequence[BenchJob],
    bookings: Sequence[Booking] = (),
    last: Sequence[Hold] = (),
) -> TwoDates:
    """The day to hope for and the day to promise for a new pair (its one or two jobs), with
    everything else planned around it.
    """
    before = plan(jobs, trees, days, bookings, last)
    after = plan([*jobs, *new], trees, days, bookings, before.holds())
    entry = after.pair(new[0].pair)
    late = late_in(before, after, new[0].pair)
    return TwoDates(entry.hope if entry else None, entry.ready if entry else None, late, after)


def late_because(
    jobs: Sequence[BenchJob],
    trees: Sequence[str],
    days: OpenDays,
    pair: str,
    bookings: Sequence[Booking] = (),
    last: Sequence[Hold] = (),
) -> tuple[PairPlan, ...]:
    """Pairs that are late with this pair on the bench and would not be without it."""
    with_it = plan(jobs, trees, days, bookings, last)
    without = plan(
        [job for job in jobs if job.pair != pair], trees, days, bookings, with_it.holds()
    )
    return late_in(without, with_it, pair)


def late_in(without: Plan, with_it: Plan, pair: str) -> tuple[PairPlan, ...]:
    """Pairs late in one plan and not in the other, the pair that makes the difference left out."""
    on_time = {entry.pair for entry in without.pairs if entry.late_days == 0}
    return tuple(
        entry
        for entry in with_it.pairs
        if entry.late_days and entry.pair in on_time and entry.pair != pair
    )


def moved(before: Plan, after: Plan) -> tuple[Moved, ...]:
    """Every pair in both plans whose ready day changes: what a tree in repair, bench away or a
    longer hold does to the days.
    """
    changes: list[Moved] = []
    for entry in after.pairs:
        old = before.pair(entry.pair)
        if old is not None and old.ready != entry.ready:
            breaks = entry.late_days > old.late_days
            changes.append(Moved(entry.pair, entry.promised, old.ready, entry.ready, breaks))
    return tuple(changes)


def bottleneck(
    jobs: Sequence[BenchJob],
    trees: Sequence[str],
    days: OpenDays,
    bookings: Sequence[Booking] = (),
    last: Sequence[Hold] = (),
) -> Bottleneck | None:
    """The tree the bench would most like to have twice; None where a second one of any kind would
    help nobody.

    With a double of each tree in turn, the plan's own order is placed again and swapped a little:
    enough to compare trees.
    """
    bench = laid_out(jobs, trees, days, bookings)
    known = order_of(bench, holds_to_keep(bench, last))
    pairs = pairs_in_sequence(bench)
    order = best_order(bench.floor, [known, *first_orders(bench.floor, pairs)], PLACEMENTS)
    alone = total(bench.floor, place(bench.floor, order, beginning(bench.floor))[1][-1].from_day)
    best: Bottleneck | None = None
    for number, tree in enumerate(trees):
        double = len(trees)
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
    trees: Sequence[str],
    days: OpenDays,
    pair: str,
    options: Mapping[str, Sequence[HoldOption]],
    bookings: Sequence[Booking] = (),
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
    before = before or plan(jobs, trees, days, bookings)
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
            trees,
            days,
            bookings,
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
