"""Keeps the bench plan in the file as things stand: the one place where it is made anew.

`keep_current` follows every change that is written (`fitcounter/desk/__init__.py`), in its
transaction: a step, a hold, a day, a tree, a sheet, a choice of the shop. Where nothing that the
plan is made from has changed since, it does nothing. No use case and no view has to think of it.
"""

from __future__ import annotations

import json
import logging
from datetime import datetime

from fitcounter.desk import shop as desk_shop
from fitcounter.desk.plan import plan as bench_plan
from fitcounter.desk.plan.plan import Made
from fitcounter.desk.plan.plan_inputs import IN_PLAN
from fitcounter.desk.shop import Shop
from fitcounter.errors import Unavailable
from fitcounter.fit.plan.jobs import Plan
from fitcounter.store import bench_days, plans, promised_slots, trees
from fitcounter.store.bench_days import BootDays
from fitcounter.store.database import Act, Store, Written
from fitcounter.store.plans import Claim
from fitcounter.store.savepoints import savepoint

log = logging.getLogger("fitcounter")


def keep_current(store: Store, act: Act, *_: object) -> None:
    """Plans anew, inside a write, where anything that the plan is made from changed in it or a day
    has gone by.

    What was written stays whatever becomes of the plan; then the old one is kept, its page says so,
    and the next write tries again. Raises only for a disk that takes nothing.
    """
    day = desk_shop.read(store).today(act.at).isoformat()
    kept = bench_days.kept_plan(store, IN_PLAN)
    if kept.day == day and kept.made_from == kept.now:
        return
    try:
        with savepoint(store):
            promised_slots.drop_expired(store, day)
            _keep(store, desk_shop.read(store), act)
    except Unavailable:
        raise
    except Exception as error:  # a boot that cannot be planned must not stop the shop's work
        log.warning("the bench plan was not renewed: %s", type(error).__name__)


def keep_today(store: Store, shop: Shop, now: datetime) -> None:
    """Plans anew where a day has gone by since the plan was made: what did not go on its tree
    yesterday is told before the first step of the morning.
    """
    if bench_days.day_made(store) != shop.today(now).isoformat():
        with store.write_tx():
            keep_current(store, Act(now))


def renew(store: Store, act: Act) -> Plan:
    """Plans anew because somebody asked for it. Raises what planning raises."""
    made: list[Made] = []

    def write() -> Written:
        made.append(_keep(store, desk_shop.read(store), act))
        plan = made[0].plan
        late = len(bench_plan.late(made[0]))
        return Written(detail={"boots": len(plan.boots), "late": late})

    store.once(Act(act.at, act.staff_id, act.phone_id), "bench-planned", write)
    return made[0].plan


def is_current(store: Store) -> bool:
    """Was the kept plan made from the rows as they stand? (A new day alone does not count.)"""
    kept = bench_days.kept_plan(store, IN_PLAN)
    return kept.made_from == kept.now


def rows_of(made: Made) -> list[BootDays]:
    """The plan as it is kept, a boot a row."""
    why = dict(made.plan.unplanned)
    rows = []
    for job in made.inputs.jobs:
        boot, reckoned = made.plan.boot(job.id), made.inputs.reckoned[int(job.id)]
        steps = boot.steps if boot else ()
        rows.append(
            BootDays(
                item_id=int(job.id),
                stamp=reckoned.stamp,
                likely=reckoned.likely,
                eight_in_ten=reckoned.eight_in_ten,
                trees="\n".join(reckoned.trees),
                hope_day=boot.hope.isoformat() if boot else None,
                ready_day=boot.ready.isoformat() if boot else None,
                waits_days=boot.waits_days if boot else 0,
                steps=json.dumps(
                    [[step.kind, step.day.isoformat(), step.tree, step.round] for step in steps]
                ),
                why=why.get(job.id, ""),
            )
        )
    return rows


def claims_of(store: Store, made: Made) -> list[Claim]:
    """The plan's holds as bookings of trees: those to come, without the rounds that are running,
    whose trees were booked when they went on.
    """
    ids = {tree.label: tree.id for tree in trees.everyone(store)}
    running = {one.item_id: one.round_n for one in plans.bookings(store) if one.kind == "running"}
    return [
        Claim(ids[hold.tree], int(hold.job), hold.round, hold.on.isoformat(), hold.off.isoformat())
        for hold in made.plan.holds()
        if hold.on >= made.plan.today and running.get(int(hold.job)) != hold.round
    ]


def _keep(store: Store, shop: Shop, act: Act) -> Made:
    """Writes a fresh plan in the place of the old one, inside a write."""
    made = bench_plan.make(store, shop, act.at)
    plans.replace_planned(store, claims_of(store, made))
    bench_days.replace_all(store, rows_of(made))
    day, fingerprint = shop.today(act.at).isoformat(), bench_days.kept_plan(store, IN_PLAN).now
    bench_days.keep_made_from(store, day, fingerprint)
    return made
