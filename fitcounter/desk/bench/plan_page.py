"""The bench plan as a page: trees by day, each boot's steps, who is late and why, what would
help.
"""

from __future__ import annotations

import json
from datetime import date, datetime, timedelta
from typing import NamedTuple

from fitcounter.desk.bench.board import board
from fitcounter.desk.bench.day_work import DayTask, day_work
from fitcounter.desk.common.translation import say
from fitcounter.desk.plan import plan as bench_plan
from fitcounter.desk.plan import plan_keeping
from fitcounter.desk.plan.plan import Made
from fitcounter.desk.plan.ready_day import DayState
from fitcounter.desk.plan.who_is_late import Late, pair_of, slipping
from fitcounter.desk.shop import Shop
from fitcounter.fit.drawings.timeline import Claimed, Timeline, timeline
from fitcounter.fit.handbook.bench import DAYS_SHOWN
from fitcounter.fit.plan.days import OpenDays
from fitcounter.fit.plan.jobs import Hold
from fitcounter.store import bench_board, fits, plans, promised_slots, trees
from fitcounter.store.bench_board import BoardRow
from fitcounter.store.bench_days import BootDays
from fitcounter.store.bench_records import Closure, TreeBooking
from fitcounter.store.database import Store
from fitcounter.store.promised_slots import PromisedSlot


class PlannedStep(NamedTuple):
    """what: prepare, on, off, read, finish, shaper."""

    what: str
    day: str
    tree: str
    round_n: int | None


class BootLine(NamedTuple):
    """One boot in the plan."""

    row: BoardRow
    days: BootDays
    steps: tuple[PlannedStep, ...]


class PlanPage(NamedTuple):
    """today: what is to be done, in the order of work. stale: something changed since the plan was
    made.

    promised: days kept for a promise, by the id that their bookings have. bottleneck: the tree to
    have twice, "" where none would help. next_open: the next day the bench works, None where that
    is today.
    """

    drawn: Timeline
    today: tuple[DayTask, ...]
    boots: tuple[BootLine, ...]
    late: tuple[Late, ...]
    at_risk: tuple[Late, ...]
    bottleneck: str
    stale: bool
    closures: tuple[Closure, ...]
    slots: tuple[TreeBooking, ...]
    promised: dict[int, PromisedSlot]
    unplanned: tuple[BootLine, ...]
    next_open: date | None


class AddedPage(NamedTuple):
    """A pair that is about to be agreed, and the pairs that become late by it."""

    row: BoardRow | None
    late: tuple[Late, ...]


def plan_page(store: Store, shop: Shop, now: datetime, ask: bool = False) -> PlanPage:
    """The plan as things stand.

    ask: also what would help, which plans the whole bench many times over.
    """
    made = bench_plan.make(store, shop, now)
    rows = {row.id: row for row in bench_board.open_items(store)}
    lines = [
        _line(rows[one.item_id], one) for one in plan_keeping.rows_of(made) if one.item_id in rows
    ]
    lines.sort(
        key=lambda line: (line.days.ready_day or "9999", line.row.number, line.row.side or "")
    )
    narrow = bench_plan.bottleneck(made) if ask else None
    claims = plans.bookings(store)
    return PlanPage(
        drawn=drawn(store, shop, now, rows, made),
        today=tuple(
            day_work(shop, made.plan.boots, rows, board(store, shop, now), shop.today(now))
        ),
        boots=tuple(line for line in lines if line.days.ready_day),
        late=slipping(store, shop, now, made, DayState.LATE, ask=ask),
        at_risk=slipping(store, shop, now, made, DayState.AT_RISK, ask=False),
        bottleneck=narrow.tree if narrow else "",
        stale=not plan_keeping.is_current(store),
        closures=tuple(
            one for one in plans.closures(store) if one.to_day >= shop.today(now).isoformat()
        ),
        slots=tuple(
            sorted(
                (one for one in claims if one.kind == "slot"),
                key=lambda one: (one.slot_id or 0, one.words),
            )
        ),
        promised={one.id: one for one in promised_slots.everything(store)},
        unplanned=tuple(line for line in lines if not line.days.ready_day),
        next_open=_next_open(made.inputs.tree_days.days),
    )


def _next_open(days: OpenDays) -> date | None:
    """None also where no day of the days shown is open."""
    if days.is_open(days.today):
        return None
    later = (days.today + timedelta(days=n) for n in range(1, DAYS_SHOWN))
    return next((one for one in later if days.is_open(one)), None)


def made_late(store: Store, shop: Shop, now: datetime, fit_id: int) -> AddedPage:
    """Who becomes late if a pair at the counter is agreed, with both days. Raises NotFound."""
    fit = fits.get(store, fit_id)
    asked = bench_plan.two_dates(store, shop, shop.today(now), fit.id)
    rows = {pair_of(row): row for row in bench_board.open_items(store)}
    return AddedPage(
        bench_board.one(store, fits.boots(store, fit.id)[0].id),
        tuple(
            Late(
                rows[one.pair],
                one.promised.isoformat() if one.promised else "",
                one.ready.isoformat(),
                one.late_days,
                "",
                None,
                None,
            )
            for one in asked.late
            if one.pair in rows
        ),
    )


def drawn(
    store: Store, shop: Shop, now: datetime, rows: dict[int, BoardRow], made: Made
) -> Timeline:
    """Trees by day from today on. A running claim that is overdue reaches to tomorrow."""
    today, days = shop.today(now), made.inputs.tree_days.days
    holds = [
        (hold.tree, _held(rows[int(hold.job)], hold, today))
        for hold in made.plan.holds()
        if int(hold.job) in rows
    ]
    kept = [
        (one.tree, Claimed(one.first, one.until, say("reserved"), True))
        for one in made.inputs.tree_days.bookings
    ]
    lanes = []
    for tree in trees.everyone(store):
        own = [claimed for label, claimed in (*holds, *kept) if label == tree.label]
        words = {"left": "L", "right": "R"}.get(tree.side, "L, R")
        lanes.append((f"{tree.label} {words}" + (" ×" if tree.state == "repair" else ""), own))
    return timeline(
        lanes, today, [days.is_open(today + timedelta(days=n)) for n in range(DAYS_SHOWN)]
    )


def _held(row: BoardRow, hold: Hold, today: date) -> Claimed:
    words = f"{row.number} {(row.side or '')[:1].upper()}"
    running = hold.on < today or (row.state == "on-tree" and hold.on == today)
    return Claimed(
        hold.on,
        max(hold.off, today + timedelta(days=1)) if running else hold.off,
        words,
        not running,
        row.id,
    )


def _line(row: BoardRow, one: BootDays) -> BootLine:
    steps = tuple(
        PlannedStep(what, day, tree or "", round_n)
        for what, day, tree, round_n in json.loads(one.steps)
    )
    return BootLine(row, one, steps)
