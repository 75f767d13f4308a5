"""Jobs that will not be ready on their day, or may not be, and why: the same that Today counts."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import datetime
from typing import NamedTuple

from fitcounter.desk.assessment.standing import standing
from fitcounter.desk.common import shop_days
from fitcounter.desk.common.translation import say, say_n, spoken
from fitcounter.desk.plan import plan_keeping
from fitcounter.desk.plan.plan import Made
from fitcounter.desk.plan.ready_day import DayState, ReadyDay, ReadyDays
from fitcounter.desk.shop import Shop
from fitcounter.fit.assessment.hold_choices import hold_choices
from fitcounter.fit.handbook.bench import PROPOSALS
from fitcounter.fit.plan import what_helps
from fitcounter.fit.plan.what_helps import HoldOption, HoldProposal
from fitcounter.store import bench_board, fits, items, lists
from fitcounter.store.bench_board import BoardRow
from fitcounter.store.database import Store


class Late(NamedTuple):
    """A job that will not be ready on its day, or may not be, and why. fit_id, shorter: a hold that
    would help, with the days it saves. words: how its day stands.

    version: of the pair as it is shown.
    """

    row: BoardRow
    promised: str
    ready: str
    days: int
    why: str
    fit_id: int | None
    shorter: HoldProposal | None
    version: int | None = None
    words: str = ""


def pair_of(row: BoardRow) -> str:
    """The name of its pair in the plan."""
    return f"fit{row.fit_id}" if row.fit_id else f"item{row.id}"


def slipping(
    store: Store, shop: Shop, now: datetime, made: Made, state: DayState, *, ask: bool
) -> tuple[Late, ...]:
    """Open jobs whose day stands so, the latest first.

    ask: also which shorter hold would help the first few.
    """
    rows = {row.id: row for row in bench_board.open_items(store)}
    kept = {row.item_id: row for row in plan_keeping.rows_of(made)}
    days = ReadyDays(kept, shop_days.of_shop(store, shop), shop.today(now))
    things = lists.items(store)
    slipping = []
    for ticket in lists.open_tickets(store):
        held = things.get(ticket.id, [])
        when = days.of_ticket(ticket, held)
        worst = next(
            (
                rows[one.id]
                for one in held
                if one.id in rows and days.of_item(one, ticket, held).state is state
            ),
            None,
        )
        if when.state is state and worst is not None:
            slipping.append((when, worst))
    slipping.sort(key=lambda one: -one[0].late_days)
    return tuple(
        _late(store, made, row, when, ask and number < PROPOSALS)
        for number, (when, row) in enumerate(slipping)
    )


def _late(store: Store, made: Made, row: BoardRow, when: ReadyDay, ask: bool) -> Late:
    pair = pair_of(row)
    ids = [int(job.id) for job in made.inputs.jobs if job.pair == pair]
    return Late(
        row,
        when.promised.isoformat() if when.promised else "",
        when.day.isoformat() if when.day else "",
        when.late_days,
        _why(made, ids) if ids else "",
        row.fit_id,
        _shorter(store, made, pair) if ask and ids else None,
        fits.get(store, row.fit_id).version if row.fit_id else None,
        when.words(spoken()),
    )


def _why(made: Made, ids: Sequence[int]) -> str:
    """The one thing that holds the pair up most, in words."""
    boots = [boot for boot in made.plan.boots if int(boot.job) in ids]
    waits = max((boot.waits_days for boot in boots), default=0)
    ahead = max(
        (len([step for step in boot.steps if step.kind == "on"]) for boot in boots), default=0
    )
    if waits:
        return say_n("Waits {count} day for a tree.", "Waits {count} days for a tree.", waits)
    if ahead:
        return say_n("{count} round still to do.", "{count} rounds still to do.", ahead)
    return say("Still to measure or to finish.")


def _shorter(store: Store, made: Made, pair: str) -> HoldProposal | None:
    options: dict[str, list[HoldOption]] = {}
    for job in made.inputs.jobs:
        if job.pair != pair:
            continue
        found = standing(store, items.get(store, int(job.id)))
        if found is None or found.done:
            continue
        options[job.id] = [
            HoldOption(one.hold_h, one.likely, one.eight_in_ten)
            for one in hold_choices(found.stand)
        ]
    given = made.inputs
    if not options:
        return None
    return what_helps.shorter_hold(given.jobs, given.tree_days, pair, options, made.plan)
