"""The bench plan over the stored boots: made, kept as claims on trees, and asked: two dates, who
becomes late, what moves.
"""

from __future__ import annotations

import json
from collections.abc import Mapping
from contextlib import suppress
from dataclasses import dataclass, replace
from datetime import date, datetime

from fitcounter.desk.assessment.standing import Standing
from fitcounter.desk.bench.plan_inputs import NONE_KNOWN, Inputs, inputs
from fitcounter.desk.shop import Shop
from fitcounter.errors import Conflict, FitCounterError
from fitcounter.fit.plan import questions as plan_questions
from fitcounter.fit.plan.jobs import Hold, Job, PairPlan, Plan
from fitcounter.fit.plan.plan import plan
from fitcounter.fit.plan.questions import Bottleneck, Moved, TwoDates
from fitcounter.store import bench_days, fits, plans, trees
from fitcounter.store.bench_days import BootDays
from fitcounter.store.database import Act, Store, Written
from fitcounter.store.plans import Claim

# Bench steps after which the plan is made anew: what is still to come has changed.
RENEWS = (
    "put-on",
    "turn-up",
    "take-off",
    "measure-again",
    "another-round",
    "done",
    "finish",
    "stop",
    "go-on",
    "further",
    "undo",
    "wait",
)


@dataclass(frozen=True, slots=True)
class Made:
    """A plan with what it was made from."""

    plan: Plan
    inputs: Inputs


def make(store: Store, shop: Shop, now: datetime, extra: tuple[int, ...] = ()) -> Made:
    """The plan as the bench stands; nothing is written.

    extra: items that are planned although they are not agreed yet.
    """
    given = inputs(store, shop, shop.today(now), extra)
    return Made(_planned(given), given)


def renew(store: Store, act: Act, shop: Shop) -> Plan:
    """Makes the plan anew and puts its claims in the place of the old ones, in one write.

    A race for a tree is planned again once.
    """
    try:
        return _renew(store, act, shop)
    except Conflict:
        return _renew(store, act, shop)


def keep_current(store: Store, act: Act, shop: Shop, step: str) -> None:
    """After a bench step: the plan as things now stand.

    The step is saved whatever becomes of the plan.
    """
    if step in RENEWS:
        refresh(store, act, shop)


def refresh(store: Store, act: Act, shop: Shop) -> None:
    """The plan as things now stand, where it can be made."""
    with suppress(FitCounterError):
        renew(store, act, shop)


def two_dates(
    store: Store,
    shop: Shop,
    today: date,
    fit_id: int,
    standings: Mapping[int, Standing] = NONE_KNOWN,
) -> TwoDates:
    """The day to hope for and the day to promise for a pair that is not agreed yet, around
    everything that is planned.

    standings: where its boots stand, by item, as they were just answered. Reserved with `renew`
    once its boots are in the queue.
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
    return plan_questions.two_dates(
        others, given.trees, given.days, new, given.bookings, given.last
    )


def late(made: Made) -> list[PairPlan]:
    """Pairs that will not be ready on their day, the latest first."""
    return sorted((one for one in made.plan.pairs if one.late_days), key=lambda one: -one.late_days)


def bottleneck(made: Made) -> Bottleneck | None:
    """The tree the bench would most like to have twice."""
    given = made.inputs
    return plan_questions.bottleneck(
        given.jobs, given.trees, given.days, given.bookings, made.plan.holds()
    )


def moves(before: Made, after: Made) -> tuple[Moved, ...]:
    """Pairs whose ready day changes."""
    return plan_questions.moved(before.plan, after.plan)


def with_job(made: Made, item_id: int, **changes: object) -> Made:
    """The same bench with one boot's job changed: a longer hold, another pickup day."""
    jobs = tuple(
        _changed(job, changes) if job.id == str(item_id) else job for job in made.inputs.jobs
    )
    given = replace(made.inputs, jobs=jobs)
    return Made(_planned(given), given)


def with_days(made: Made, away: tuple[date, date]) -> Made:
    """The same bench with nobody at it on some days, both ends included."""
    days = made.inputs.days
    given = replace(made.inputs, days=replace(days, away=(*days.away, away)))
    return Made(_planned(given), given)


def without_tree(made: Made, label: str) -> Made:
    """The same bench without one tree, for one that goes in repair."""
    given = replace(made.inputs, trees=tuple(one for one in made.inputs.trees if one != label))
    return Made(_planned(given), given)


def _planned(given: Inputs) -> Plan:
    return plan(given.jobs, given.trees, given.days, given.bookings, given.last)


def _changed(job: Job, changes: dict[str, object]) -> Job:
    return replace(job, **changes)  # type: ignore[arg-type]  # the names are fields of Job


def _renew(store: Store, act: Act, shop: Shop) -> Plan:
    made = make(store, shop, act.at)

    def write() -> Written:
        ids = {one.label: one.id for one in trees.everyone(store)}
        claims = []
        for boot in made.plan.boots:
            own = _running_round(store, int(boot.job))  # its claim was made when it went on
            ahead = [
                hold for hold in boot.holds if hold.round != own and hold.on >= made.plan.today
            ]
            claims += [_claim(ids, hold) for hold in ahead]
        plans.replace_planned(store, claims)
        bench_days.replace_all(store, rows_of(made))
        return Written(
            detail={"boots": len(made.plan.boots), "claims": len(claims), "late": len(late(made))}
        )

    store.once(Act(act.at, act.staff_id, act.phone_id), "bench-planned", write)
    return made.plan


def _claim(ids: dict[str, int], hold: Hold) -> Claim:
    return Claim(
        ids[hold.tree], int(hold.job), hold.round, hold.on.isoformat(), hold.off.isoformat()
    )


def _running_round(store: Store, item_id: int) -> int | None:
    found = next((one for one in plans.of_item(store, item_id) if one.kind == "running"), None)
    return found.round_n if found else None


def rows_of(made: Made) -> list[BootDays]:
    """The plan, a boot a row, as it is kept."""
    why = dict(made.plan.unplanned)
    rows = []
    for job in made.inputs.jobs:
        boot, known = made.plan.boot(job.id), made.inputs.reckoned[int(job.id)]
        steps = (
            []
            if boot is None
            else [[one.kind, one.day.isoformat(), one.tree, one.round] for one in boot.steps]
        )
        rows.append(
            BootDays(
                item_id=int(job.id),
                stamp=known.stamp,
                likely=known.likely,
                eight_in_ten=known.eight_in_ten,
                trees="\n".join(known.trees),
                hope_day=boot.hope.isoformat() if boot else None,
                ready_day=boot.ready.isoformat() if boot else None,
                waits_days=boot.waits_days if boot else 0,
                steps=json.dumps(steps),
                why=why.get(job.id, ""),
            )
        )
    return rows
