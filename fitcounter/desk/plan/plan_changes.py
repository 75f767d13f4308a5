"""What the shop decides about the bench: away days, a hold left on, a shorter hold, a pickup day,
trees kept for boots at home.

Each is saved at once, unless somebody's promised day would move: then the question is asked first,
with whose and by how much.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from datetime import date, timedelta
from typing import Any

from fitcounter.desk.common.state_changes import StepInput
from fitcounter.desk.common.translation import say
from fitcounter.desk.plan import plan as bench_plan
from fitcounter.desk.plan.plan import Made
from fitcounter.desk.rounds.round_rows import bench_step, running_round
from fitcounter.desk.shop import Shop
from fitcounter.desk.trees import tree_bookings
from fitcounter.errors import BadInput, Conflict
from fitcounter.fit.handbook.bench import LONGEST_AWAY_DAYS, MOST_LEFT_ON_DAYS
from fitcounter.fit.plan.jobs import OnTree, PairPlan
from fitcounter.fit.plan.made_late import Moved
from fitcounter.fit.plan.plan import plan
from fitcounter.store import bench_board, fits, items, plans, tickets
from fitcounter.store.database import Act, Store, Written, utc_text, utc_time
from fitcounter.store.records import Item
from fitcounter.store.undos import Writes


def away(
    store: Store,
    act: Act,
    shop: Shop,
    first: date,
    last: date,
    why: str,
    confirmed: bool,
    *,
    shop_closed: bool = False,
) -> Written:
    """Nobody at the bench from first to last, both included; nor at the counter where the whole
    shop is closed.

    Raises BadInput; at `confirmed` while a promised day would move.
    """
    if last < first:
        raise BadInput(
            say("The last day is before the first. Type both days again."),
            typed=last.isoformat(),
            field="to_day",
        )
    if (last - first).days > LONGEST_AWAY_DAYS:
        raise BadInput(
            say("That is longer than four months. Type the days again."),
            typed=last.isoformat(),
            field="to_day",
        )
    before = bench_plan.make(store, shop, act.at)
    _ask(store, shop, before, bench_plan.with_days(before, (first, last)), confirmed)

    def write() -> Written:
        row = {
            "from_day": first.isoformat(),
            "to_day": last.isoformat(),
            "why": why,
            "kind": "closed" if shop_closed else "bench-away",
        }
        return Written(
            row_id=store.insert("closures", **row),
            words="kept",
            detail={"from": first.isoformat(), "to": last.isoformat()},
        )

    return store.once(act, "bench-away", write)


def close_each(
    store: Store, act: Act, shop: Shop, days: Sequence[tuple[date, str]], confirmed: bool
) -> Written:
    """Closes the whole shop on single days, each for its reason.

    Raises BadInput at `confirmed` while a promised day would move.
    """
    before = bench_plan.make(store, shop, act.at)
    after = bench_plan.with_days(before, *((day, day) for day, _ in days))
    _ask(store, shop, before, after, confirmed)

    def write() -> Written:
        for day, why in days:
            on = day.isoformat()
            store.insert("closures", from_day=on, to_day=on, why=why, kind="closed")
        return Written(detail={"closed": [day.isoformat() for day, _ in days]})

    return store.once(act, "holidays-closed", write)


def back_early(store: Store, act: Act, shop: Shop, closure_id: int) -> Written:
    """Strikes days away."""

    def write() -> Written:
        plans.strike_closure(store, closure_id)
        return Written(row_id=closure_id, words="struck", detail={"closure": closure_id})

    return store.once(act, "bench-back", write)


def leave_on(
    store: Store,
    act: Act,
    shop: Shop,
    item_id: int,
    step_input: StepInput,
    until: date,
    confirmed: bool,
) -> Written:
    """Leaves a boot on its tree until a later day.

    Raises BadInput; at `confirmed` while a promised day would move.
    """
    today = shop.today(act.at)
    if not today < until <= today + timedelta(days=MOST_LEFT_ON_DAYS):
        raise BadInput(
            say("Type a day from tomorrow on, at most 30 days from now."),
            typed=until.isoformat(),
            field="until",
        )
    before = bench_plan.make(store, shop, act.at)
    job = next((one for one in before.inputs.jobs if one.id == str(item_id)), None)
    if job is not None and isinstance(job.now, OnTree):
        _ask(
            store,
            shop,
            before,
            bench_plan.with_job(before, item_id, now=replace(job.now, due_off=until)),
            confirmed,
        )

    def work(item: Item, writes: Writes) -> dict[str, Any]:
        turn = running_round(writes, item)
        due_at = utc_time(turn.due_off_at) if turn.due_off_at else act.at
        local = shop.local(due_at)
        later = local.replace(year=until.year, month=until.month, day=until.day)
        writes.change("rounds", turn.id, due_off_at=utc_text(later))
        tree_bookings.stretch(store, shop, item, turn, later)
        return {"round": turn.n, "until": until.isoformat()}

    return bench_step(store, act, item_id, "leave-on", step_input, work)


def set_hold(
    store: Store,
    act: Act,
    shop: Shop,
    fit_id: int,
    version: int | None,
    hold_h: int,
    confirmed: bool,
) -> Written:
    """Another hold for a pair's rounds to come. version: of the pair that was looked at.

    Raises BadInput; at `confirmed` while a promised day would move; Conflict, with the hold that
    stands, when the pair was changed since.
    """
    if not 12 <= hold_h <= 720:
        raise BadInput(say("Type 12 to 720 hours."), typed=str(hold_h), field="hold_h")
    before = bench_plan.make(store, shop, act.at)
    jobs = tuple(
        replace(job, hold_h=float(hold_h)) if job.pair == f"fit{fit_id}" else job
        for job in before.inputs.jobs
    )
    given = replace(before.inputs, jobs=jobs)
    _ask(
        store,
        shop,
        before,
        Made(plan(given.jobs, given.tree_days, given.last), given),
        confirmed,
    )

    def write() -> Written:
        held = fits.get(store, fit_id)
        if version is not None and version != held.version:
            theirs = {say("Hours on the tree"): say("{hours} h", hours=held.hold_h)}
            raise Conflict(
                say("Someone changed this pair while you were typing. Look, then save yours."),
                theirs=theirs,
            )
        store.change("fits", fit_id, held.version, hold_h=hold_h)
        return Written(
            held.ticket_id,
            row_id=fit_id,
            words=say("Rounds of this pair now stay on the tree {hours} h", hours=hold_h),
            detail={"fit": fit_id, "hold_h": hold_h},
        )

    return store.once(act, "hold-changed", write)


def set_pickup_day(
    store: Store, act: Act, shop: Shop, item_id: int, day: date | None, version: int | None = None
) -> Written:
    """The day a pickup of its ticket is agreed for: the last holds are set late against it. None
    takes it back.

    version: of the ticket that was looked at. Raises Conflict, with the day that stands, when
    somebody changed it since.
    """

    def write() -> Written:
        held = tickets.get(store, items.get(store, item_id).ticket_id)
        if version is not None and version != held.version:
            theirs = {say("Pickup day"): held.pickup_day or say("none")}
            raise Conflict(
                say(
                    "Someone changed this ticket while you were typing. Look at the pickup day,"
                    " then save yours."
                ),
                theirs=theirs,
            )
        store.change("tickets", held.id, held.version, pickup_day=day.isoformat() if day else None)
        return Written(
            held.id,
            item_id,
            words=say("The pickup day is saved"),
            detail={"pickup_day": day.isoformat() if day else None},
        )

    return store.once(act, "pickup-day", write)


def tree_out(store: Store, act: Act, shop: Shop, label: str, confirmed: bool) -> None:
    """Asks before a tree goes in repair or is retired, where a promised day would move."""
    before = bench_plan.make(store, shop, act.at)
    _ask(store, shop, before, bench_plan.without_tree(before, label), confirmed)


def moved_words(store: Store, shop: Shop, moved: Sequence[Moved]) -> list[str]:
    """Each pair whose day moves: number, name, from which day to which, and what was promised."""
    said = []
    for one in moved:
        row = _row_of(store, one.pair)
        if row is None:
            continue
        days = {"was": tree_bookings.say_day(one.was), "now": tree_bookings.say_day(one.becomes)}
        who = {"number": row.number, "customer": row.customer, **days}
        said.append(
            say(
                "{number} {customer} moves from {was} to {now}, promised {promised}.",
                promised=tree_bookings.say_day(one.promised),
                **who,
            )
            if one.promised
            else say("{number} {customer} moves from {was} to {now}.", **who)
        )
    return said


def pair_words(store: Store, late: PairPlan) -> str:
    """A pair that would be late: number, name, when it would be ready and what was promised; ""
    where it is on no ticket.
    """
    row = _row_of(store, late.pair)
    if row is None or late.promised is None:
        return ""
    return say(
        "{number} {customer}: promised {promised}, would be ready {ready}.",
        number=row.number,
        customer=row.customer,
        promised=tree_bookings.say_day(late.promised),
        ready=tree_bookings.say_day(late.ready),
    )


def _row_of(store: Store, pair: str) -> bench_board.BoardRow | None:
    boots = fits.boots(store, int(pair.removeprefix("fit"))) if pair.startswith("fit") else []
    item_id = (
        boots[0].id if boots else int(pair.removeprefix("item")) if pair.startswith("item") else 0
    )
    return bench_board.one(store, item_id)


def _ask(store: Store, shop: Shop, before: Made, after: Made, confirmed: bool) -> None:
    moved = [one for one in bench_plan.moves(before, after) if one.breaks_promise]
    if moved and not confirmed:
        raise BadInput(
            " ".join([say("A promised day would move:"), *moved_words(store, shop, moved)]),
            field="confirmed",
        )
