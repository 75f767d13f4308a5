"""What the bench plan is made from: the stored boots as jobs, trees, open days, and what is taken
for other reasons.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date, timedelta
from typing import Literal, NamedTuple, cast

from fitcounter.desk.assessment import learnt_from_own_boots
from fitcounter.desk.assessment.standing import Standing, standing
from fitcounter.desk.shop import Shop
from fitcounter.desk.trees.tree_choice import as_tree
from fitcounter.desk.trees.tree_fit import BootNow, last_girth_mm, trees_to_book
from fitcounter.fit.assessment.opening_ahead import next_opening
from fitcounter.fit.assessment.rounds_ahead import odds
from fitcounter.fit.handbook.bench import MOST_HOLD_H, MOST_WORK_DAYS
from fitcounter.fit.handbook.rounds import REST_H
from fitcounter.fit.plan.days import OpenDays
from fitcounter.fit.plan.jobs import BenchJob, Booking, Hold, OnTree, Resting, TreeDays
from fitcounter.fit.trees.serving import Tree
from fitcounter.store import (
    bench_days,
    fits,
    items,
    outcomes,
    plans,
    promised_slots,
    rounds,
    settings,
    tickets,
    trees,
    works,
)
from fitcounter.store.bench_days import BootDays
from fitcounter.store.bench_records import Round
from fitcounter.store.database import Store, utc_time
from fitcounter.store.records import Fit, Item, Ticket

# States of the boots in the plan; of those that are expected the trees are booked ahead.
IN_PLAN = ("queued", "prepared", "on-tree", "resting", "to-decide", "finishing", "expected")
REST_DAYS = -(-REST_H // 24)
RECKONED_AS = "trees that serve"  # changes with the rule, so that nothing older is kept
NONE_KNOWN: Mapping[int, Standing] = {}


class Reckoned(NamedTuple):
    """What a boot asks of the bench. stamp: of the rows behind it."""

    stamp: str
    likely: int | None
    eight_in_ten: int | None
    trees: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Inputs:
    """Everything `fit.bench.plan` takes. reckoned: by item, to be kept with the plan."""

    jobs: tuple[BenchJob, ...]
    tree_days: TreeDays
    last: tuple[Hold, ...]
    reckoned: Mapping[int, Reckoned]


class _BenchRows(NamedTuple):
    """What the boots of the bench have beside their own rows, by ticket, pair, item and tree.

    turns: the last round of each that had one. labels: of every tree, retired ones too.
    """

    tickets: Mapping[int, Ticket]
    fits: Mapping[int, Fit]
    turns: Mapping[int, Round]
    labels: Mapping[int, str]


def inputs(
    store: Store,
    shop: Shop,
    today: date,
    extra: tuple[int, ...] = (),
    standings: Mapping[int, Standing] = NONE_KNOWN,
) -> Inputs:
    """The bench as it stands.

    today: the shop's own day. extra: items that are planned although they are not agreed yet.
    standings: where boots stand, by item, as far as that is known already.
    """
    held = [one for one in items.open_boots(store) if one.state in IN_PLAN or one.id in extra]
    reckoned = reckon(store, shop, held, standings)
    days = works.days_of(store)
    rows, shop_trees = _rows_of(store, held), trees.everyone(store)
    jobs = [
        _with_work(_job(shop, one, reckoned[one.id], rows), days.get(one.id, (0, 0)))
        for one in held
    ]
    sound = tuple(one.label for one in shop_trees if one.state == "sound")
    labels = {one.id: one.label for one in shop_trees}
    taken, last = [], []
    kept_for = _kept_for(store, held)
    for claim in plans.bookings(store):
        label = labels.get(claim.tree_id)
        if label is None:
            continue
        first, until = date.fromisoformat(claim.from_day), date.fromisoformat(claim.to_day)
        owner = kept_for.get((claim.slot_id, claim.slot_side), claim.item_id)
        if claim.kind == "slot" and owner is None:
            taken.append(Booking(label, first, until))
        elif claim.kind in ("planned", "slot") and owner is not None:
            last.append(
                Hold(
                    str(owner),
                    label,
                    claim.round_n or 1,
                    first,
                    until,
                    24 * (until - first).days,
                )
            )
    tree_days = TreeDays(sound, open_days(store, shop, today), tuple(taken))
    return Inputs(tuple(jobs), tree_days, tuple(last), reckoned)


def _kept_for(store: Store, held: list[Item]) -> dict[tuple[int | None, str], int]:
    """By promised slot and side the boot of its ticket that is planned or asked about: what is kept
    for it is free for it.
    """
    tickets_of = {one.ticket_id: one.id for one in promised_slots.everything(store)}
    return {
        (tickets_of[one.ticket_id], one.side or ""): one.id
        for one in held
        if one.ticket_id in tickets_of
    }


def open_days(store: Store, shop: Shop, today: date) -> OpenDays:
    """The shop's weekdays, its closed days, and the days the bench is away."""
    closed: set[date] = set()
    away = []
    for one in plans.closures(store):
        first, last = date.fromisoformat(one.from_day), date.fromisoformat(one.to_day)
        if one.kind == "bench-away":
            away.append((first, last))
        else:
            closed |= {first + timedelta(days=n) for n in range((last - first).days + 1)}
    return OpenDays(today, frozenset(shop.open_days), frozenset(closed), tuple(away))


def reckon(
    store: Store, shop: Shop, held: list[Item], standings: Mapping[int, Standing] = NONE_KNOWN
) -> dict[int, Reckoned]:
    """Rounds and trees of every boot; what was reckoned for the last plan stands while nothing
    under it changed.

    standings: where boots stand, by item, as far as that is known already.
    """
    known, stamps = bench_days.everything(store), bench_days.stamps(store)
    shared = "|".join(
        (
            RECKONED_AS,
            bench_days.tree_stamp(store),
            str(settings.leathers_stamp(store)),
            outcomes.rounds_stamp(store),
        )
    )
    points = trees.all_calibration(store)
    shop_trees: list[Tree] = [as_tree(row, points.get(row.id, ())) for row in trees.everyone(store)]
    found, learnt = {}, learnt_from_own_boots.learnt(store)
    for item in held:
        stamp = f"{stamps.get(item.id, '')}|{shared}"
        kept = known.get(item.id)
        found[item.id] = (
            _kept(kept)
            if kept is not None and kept.stamp == stamp
            else _reckon(
                store,
                shop,
                item,
                standings.get(item.id) or standing(store, item, learnt),
                shop_trees,
                stamp,
            )
        )
    return found


def _kept(row: BootDays) -> Reckoned:
    return Reckoned(
        row.stamp, row.likely, row.eight_in_ten, tuple(row.trees.split("\n")) if row.trees else ()
    )


def _reckon(
    store: Store,
    shop: Shop,
    item: Item,
    found: Standing | None,
    shop_trees: list[Tree],
    stamp: str,
) -> Reckoned:
    """found: where the boot stands, None where that cannot be said."""
    likely, eight_in_ten = _goes(found, item)
    girth_mm = last_girth_mm(store, item) if found is None else None
    boot = BootNow(item=item, found=found, unit=shop.unit, girth_mm=girth_mm)
    return Reckoned(stamp, likely, eight_in_ten, trees_to_book(boot, shop_trees))


def _goes(found: Standing | None, item: Item) -> tuple[int | None, int | None]:
    """Likely and eight-in-ten further rounds; (None, None) where nothing was measured or nothing is
    reckoned: the agreed number.
    """
    if item.state == "finishing":
        return 0, 0
    if found is None or (found.case.leather.refused and not found.done):
        return None, None
    if found.done:
        return 0, 0
    further = odds(found.stand, next_opening(found.stand))
    return further.likely, further.eight_in_ten


def _rows_of(store: Store, held: Sequence[Item]) -> _BenchRows:
    return _BenchRows(
        tickets.some(store, {one.ticket_id for one in held}),
        fits.some(store, {one.fit_id for one in held if one.fit_id}),
        rounds.last_of_items(store, {one.id for one in held}),
        {one.id: one.label for one in (*trees.everyone(store), *trees.retired(store))},
    )


def _job(shop: Shop, item: Item, reckoned: Reckoned, rows: _BenchRows) -> BenchJob:
    ticket = rows.tickets[item.ticket_id]
    fit = rows.fits[item.fit_id] if item.fit_id else None
    turn = rows.turns.get(item.id)
    lived = (
        0
        if turn is None
        else turn.n - (0 if turn.off_at and item.state not in ("on-tree", "resting") else 1)
    )
    return BenchJob(
        id=str(item.id),
        pair=f"fit{item.fit_id}" if item.fit_id else f"item{item.id}",
        side=cast(Literal["left", "right"], item.side),
        arrival=item.ticket_id,
        trees=reckoned.trees,
        rounds_likely=reckoned.likely,
        rounds_promise=reckoned.eight_in_ten,
        max_rounds=fit.max_rounds if fit else shop.max_rounds,
        hold_h=min(float(fit.hold_h if fit else shop.hold_h), MOST_HOLD_H),
        rest_days=REST_DAYS,
        preparing_days=0 if item.state == "prepared" else 1,
        promised=_day(item.promised_day or (None if ticket.handed_over_at else ticket.promise_day)),
        not_before=_day(item.waits_for) if item.state == "expected" else None,
        pickup=_day(ticket.pickup_day),
        now=_now(shop, item, rows),
        rounds_done=max(0, lived),
    )


def _with_work(job: BenchJob, days: tuple[int, int]) -> BenchJob:
    """The same with the days of other work on the boot: before it is stretched, and after."""
    before, after = days
    preparing = min(job.preparing_days + before, MOST_WORK_DAYS)
    finishing = min(job.finishing_days + after, MOST_WORK_DAYS)
    return replace(job, preparing_days=preparing, finishing_days=finishing)


def _now(shop: Shop, item: Item, rows: _BenchRows) -> OnTree | Resting | None:
    """On which tree until when, or resting until when; from the item's own row where the round has
    no times.
    """
    if item.state not in ("on-tree", "resting"):
        return None
    since, turn = utc_time(item.since), rows.turns.get(item.id)
    fit = rows.fits[item.fit_id] if item.fit_id else None
    hold = timedelta(hours=fit.hold_h if fit else shop.hold_h)
    if item.state == "resting":
        off_at = utc_time(turn.off_at) if turn and turn.off_at else since
        return Resting(shop.today(off_at + timedelta(hours=REST_H)))
    on_at = utc_time(turn.on_at) if turn and turn.on_at else since
    due_at = utc_time(turn.due_off_at) if turn and turn.due_off_at else on_at + hold
    if turn is None or turn.tree_id is None:
        return Resting(shop.today(due_at) + timedelta(days=REST_DAYS))
    return OnTree(rows.labels[turn.tree_id], shop.today(on_at), shop.today(due_at))


def _day(text: str | None) -> date | None:
    return date.fromisoformat(text) if text else None
