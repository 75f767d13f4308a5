"""A new pair's two dates, and who is made late: by it, or by any other change of the plan.

Each is answered by planning again, so an answer is never better than the plan it stands on. No
published standard.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date

from fitcounter.fit.plan.jobs import BenchJob, Hold, PairPlan, Plan, TreeDays
from fitcounter.fit.plan.plan import plan


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


def two_dates(
    jobs: Sequence[BenchJob],
    tree_days: TreeDays,
    new: Sequence[BenchJob],
    last: Sequence[Hold] = (),
) -> TwoDates:
    """The day to hope for and the day to promise for a new pair (its one or two jobs), with
    everything else planned around it.
    """
    before = plan(jobs, tree_days, last)
    after = plan([*jobs, *new], tree_days, before.holds())
    entry = after.pair(new[0].pair)
    late = late_in(before, after, new[0].pair)
    return TwoDates(entry.hope if entry else None, entry.ready if entry else None, late, after)


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
