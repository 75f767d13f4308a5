"""The bench plan over the stored boots: made, and asked: two dates, who becomes late, what moves.
How it is kept: `plan_keeping`.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from datetime import date, datetime
from typing import NamedTuple

from fitcounter.desk.assessment.standing import Standing
from fitcounter.desk.plan.plan_inputs import NONE_KNOWN, Inputs, inputs
from fitcounter.desk.shop import Shop
from fitcounter.fit.plan import made_late, what_helps
from fitcounter.fit.plan.jobs import BenchJob, PairPlan, Plan
from fitcounter.fit.plan.made_late import Moved, TwoDates
from fitcounter.fit.plan.plan import plan
from fitcounter.fit.plan.what_helps import Bottleneck
from fitcounter.store import fits
from fitcounter.store.database import Store


class Made(NamedTuple):
    """A plan with what it was made from."""

    plan: Plan
    inputs: Inputs


def make(store: Store, shop: Shop, now: datetime, extra: tuple[int, ...] = ()) -> Made:
    """The plan as the bench stands; nothing is written.

    extra: items that are planned although they are not agreed yet.
    """
    given = inputs(store, shop, shop.today(now), extra)
    return Made(_planned(given), given)


def two_dates(
    store: Store,
    shop: Shop,
    today: date,
    fit_id: int,
    standings: Mapping[int, Standing] = NONE_KNOWN,
) -> TwoDates:
    """The day to hope for and the day to promise for a pair that is not agreed yet, around
    everything that is planned.

    standings: where its boots stand, by item, as they were just answered. Its trees are booked once
    its boots are in the queue.
    """
    boots = [boot for boot in fits.boots(store, fit_id) if boot.state in ("counter", "expected")]
    given = inputs(store, shop, today, tuple(boot.id for boot in boots), standings)
    ids = {str(boot.id) for boot in boots}
    new = [job for job in given.jobs if job.id in ids]
    others = [job for job in given.jobs if job.id not in ids]
    if not new:
        made = _planned(given)
        pair = made.pair(f"fit{fit_id}")
        return TwoDates(pair.hope if pair else None, pair.ready if pair else None, (), made)
    return made_late.two_dates(others, given.tree_days, new, given.last)


def late(made: Made) -> list[PairPlan]:
    """Pairs that will not be ready on their day, the latest first."""
    return sorted((one for one in made.plan.pairs if one.late_days), key=lambda one: -one.late_days)


def bottleneck(made: Made) -> Bottleneck | None:
    """The tree the bench would most like to have twice."""
    given = made.inputs
    return what_helps.bottleneck(given.jobs, given.tree_days, made.plan.holds())


def moves(before: Made, after: Made) -> tuple[Moved, ...]:
    """Pairs whose ready day changes."""
    return made_late.moved(before.plan, after.plan)


def with_job(made: Made, item_id: int, **changes: object) -> Made:
    """The same bench with one boot's job changed: a longer hold, another pickup day."""
    jobs = tuple(
        _changed(job, changes) if job.id == str(item_id) else job for job in made.inputs.jobs
    )
    given = replace(made.inputs, jobs=jobs)
    return Made(_planned(given), given)


def with_days(made: Made, *away: tuple[date, date]) -> Made:
    """The same bench with nobody at it in some spans of days, both ends included."""
    held = made.inputs.tree_days
    days = replace(held.days, away=(*held.days.away, *away))
    given = replace(made.inputs, tree_days=replace(held, days=days))
    return Made(_planned(given), given)


def without_tree(made: Made, label: str) -> Made:
    """The same bench without one tree, for one that goes in repair."""
    held = made.inputs.tree_days
    sound = tuple(one for one in held.trees if one != label)
    given = replace(made.inputs, tree_days=replace(held, trees=sound))
    return Made(_planned(given), given)


def _planned(given: Inputs) -> Plan:
    return plan(given.jobs, given.tree_days, given.last)


def _changed(job: BenchJob, changes: dict[str, object]) -> BenchJob:
    return replace(job, **changes)  # type: ignore[arg-type]  # the names are fields of Job
