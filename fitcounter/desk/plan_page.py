"""The bench plan as a page: trees by day, each boot's steps, who is late and why, what would help."""

from __future__ import annotations

import json
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, datetime, timedelta

from fitcounter.desk import bench
from fitcounter.desk.bench import Made
from fitcounter.desk.bench_inputs import open_days
from fitcounter.desk.shop import Shop
from fitcounter.desk.standing import standing
from fitcounter.fit import bench_questions
from fitcounter.fit.bench_questions import HoldOption, HoldProposal
from fitcounter.fit.course import hold_choices
from fitcounter.fit.timeline import Claimed, Timeline, timeline
from fitcounter.store import bench_board, bench_days, fits, items, plans, trees
from fitcounter.store.bench_board import BoardRow
from fitcounter.store.bench_days import BootDays
from fitcounter.store.bench_records import Closure
from fitcounter.store.database import Store
from fitcounter.store.records import Booking

DAYS_SHOWN = 35
PROPOSALS = 3  # late pairs that a shorter hold is tried for, so that the page stays quick


@dataclass(frozen=True, slots=True)
class PlannedStep:
    """what: prepare, on, off, read, finish, shaper."""

    what: str
    day: str
    tree: str
    round_n: int | None


@dataclass(frozen=True, slots=True)
class BootLine:
    """One boot in the plan."""

    row: BoardRow
    days: BootDays
    steps: tuple[PlannedStep, ...]


@dataclass(frozen=True, slots=True)
class Late:
    """A pair that will not be ready on its day, and why. fit_id, shorter: a hold that would help, with the days it saves."""

    row: BoardRow
    promised: str
    ready: str
    days: int
    why: str
    fit_id: int | None
    shorter: HoldProposal | None


@dataclass(frozen=True, slots=True)
class PlanPage:
    """stale: something changed since the plan was made. bottleneck: the tree to have twice, "" where none would help."""

    drawn: Timeline
    boots: tuple[BootLine, ...]
    late: tuple[Late, ...]
    bottleneck: str
    stale: bool
    closures: tuple[Closure, ...]
    slots: tuple[Booking, ...]
    unplanned: tuple[BootLine, ...]


def plan_page(store: Store, shop: Shop, now: datetime) -> PlanPage:
    """The plan as it was kept, with the questions asked of it now."""
    made = bench.make(store, shop, now)
    rows = {row.id: row for row in bench_board.open_items(store)}
    known = bench_days.everything(store)
    lines = [_line(rows[item_id], one) for item_id, one in known.items() if item_id in rows]
    lines.sort(key=lambda line: (line.days.ready_day or "9999", line.row.number, line.row.side or ""))
    narrow = bench.bottleneck(made)
    claims = plans.bookings(store)
    return PlanPage(
        drawn=drawn(store, shop, now, rows, claims),
        boots=tuple(line for line in lines if line.days.ready_day),
        late=tuple(_late(store, made, rows, known, number) for number in range(len(bench.late(made)))),
        bottleneck=narrow.tree if narrow else "",
        stale=_stale(made, known),
        closures=tuple(one for one in plans.closures(store) if one.to_day >= shop.today(now).isoformat()),
        slots=tuple(one for one in claims if one.kind == "slot"),
        unplanned=tuple(line for line in lines if not line.days.ready_day),
    )


def drawn(store: Store, shop: Shop, now: datetime, rows: dict[int, BoardRow], claims: Sequence[Booking]) -> Timeline:
    """Trees by day from today on. A running claim that is overdue reaches to tomorrow."""
    today, days = shop.today(now), open_days(store, shop, now)
    lanes = []
    for tree in trees.everyone(store):
        own = [_claimed(one, rows, today) for one in claims if one.tree_id == tree.id]
        words = {"left": "L", "right": "R"}.get(tree.side, "L, R")
        lanes.append((f"{tree.label} {words}" + (" ×" if tree.state == "repair" else ""), own))
    return timeline(lanes, today, [days.is_open(today + timedelta(days=n)) for n in range(DAYS_SHOWN)])


def _claimed(one: Booking, rows: dict[int, BoardRow], today: date) -> Claimed:
    row = rows.get(one.item_id or 0)
    words = f"{row.number} {(row.side or '')[:1].upper()}" if row else one.words or "taken"
    until = date.fromisoformat(one.to_day)
    if one.kind == "running":
        until = max(until, today + timedelta(days=1))
    return Claimed(date.fromisoformat(one.from_day), until, words, one.kind != "running")


def _line(row: BoardRow, one: BootDays) -> BootLine:
    steps = tuple(PlannedStep(what, day, tree or "", round_n) for what, day, tree, round_n in json.loads(one.steps))
    return BootLine(row, one, steps)


def _late(store: Store, made: Made, rows: dict[int, BoardRow], known: dict[int, BootDays], number: int) -> Late:
    pair = bench.late(made)[number]
    ids = [int(job.id) for job in made.inputs.jobs if job.pair == pair.pair]
    row = rows[ids[0]]
    shorter = _shorter(store, made, pair.pair) if number < PROPOSALS else None
    promised = pair.promised.isoformat() if pair.promised else ""
    return Late(row, promised, pair.ready.isoformat(), pair.late_days, _why(made, ids), row.fit_id, shorter)


def _why(made: Made, ids: Sequence[int]) -> str:
    """The one thing that holds the pair up most, in words."""
    boots = [boot for boot in made.plan.boots if int(boot.job) in ids]
    waits = max((boot.waits_days for boot in boots), default=0)
    ahead = max((len([step for step in boot.steps if step.kind == "on"]) for boot in boots), default=0)
    if waits:
        return f"it waits {waits} {'day' if waits == 1 else 'days'} for a tree"
    if ahead:
        return f"it still has {ahead} {'go' if ahead == 1 else 'goes'} on the tree ahead"
    return "it is still to be measured or finished"


def _shorter(store: Store, made: Made, pair: str) -> HoldProposal | None:
    options: dict[str, list[HoldOption]] = {}
    for job in made.inputs.jobs:
        if job.pair != pair:
            continue
        found = standing(store, items.get(store, int(job.id)))
        if found is None or found.done:
            continue
        options[job.id] = [HoldOption(one.hold_h, one.likely, one.eight_in_ten) for one in hold_choices(found.stand)]
    given = made.inputs
    if not options:
        return None
    return bench_questions.shorter_hold(given.jobs, given.trees, given.days, pair, options, given.bookings, given.last)


def _stale(made: Made, known: dict[int, BootDays]) -> bool:
    """Is a boot in the plan that was not, or the other way round, or reckoned from other rows?"""
    now = {item_id: one.stamp for item_id, one in made.inputs.reckoned.items()}
    return now != {item_id: one.stamp for item_id, one in known.items()}


def pair_ready(store: Store, fit_id: int) -> str | None:
    """The day a pair is ready by the plan: the later of its boots."""
    known = bench_days.everything(store)
    days = [known[boot.id].ready_day for boot in fits.boots(store, fit_id) if boot.id in known]
    return max((day for day in days if day), default=None)
