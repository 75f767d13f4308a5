"""Before a boot goes on a tree that is booked for another: whose booking that is, and to which tree
and day it moves.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from datetime import date, datetime

from fitcounter.desk.common import item_words
from fitcounter.desk.common.translation import say
from fitcounter.desk.plan import plan_inputs
from fitcounter.desk.shop import Shop
from fitcounter.desk.trees.tree_bookings import booked_days, other_claims, say_booked, say_day
from fitcounter.errors import BadInput
from fitcounter.fit.plan.jobs import Hold, OnTree, Plan
from fitcounter.fit.plan.plan import plan
from fitcounter.store import bench_board
from fitcounter.store.bench_board import BoardRow
from fitcounter.store.bench_records import TreeBooking, TreeRow
from fitcounter.store.database import Store
from fitcounter.store.records import Item


def ask(
    store: Store,
    shop: Shop,
    now: datetime,
    item: Item,
    tree: TreeRow,
    held: tuple[datetime, datetime],
) -> None:
    """Asks before an item goes on a tree (`held`: until when) that is booked meanwhile.

    Raises BadInput at take_tree, with whose booking it is and where that boot goes instead.
    """
    first, last = booked_days(shop, *held)
    others = other_claims(store, item, tree, (first, last))
    if not others or (others[0].kind == "slot" and others[0].from_day <= first):
        return  # a tree that is kept by now is refused
    booked = say_booked(store, tree, others[0])
    if others[0].kind == "slot":
        ways = [say("Pick another tree, or put this boot on and take it off by then.")]
    else:
        after = _after(store, shop, now, item, tree, (first, last))
        ways = [
            say("Pick another tree, or put this boot on."),
            *_moves(store, after, [one for one in others if one.kind == "planned"]),
        ]
    raise BadInput(" ".join([booked, *ways]), typed=tree.label, field="take_tree")


def _after(
    store: Store, shop: Shop, now: datetime, item: Item, tree: TreeRow, span: tuple[str, str]
) -> Plan:
    """The plan with this boot on that tree from the first day to the last (ISO)."""
    given = plan_inputs.inputs(store, shop, shop.today(now))
    first, last = date.fromisoformat(span[0]), date.fromisoformat(span[1])
    running = OnTree(tree.label, first, last)
    jobs = [
        replace(job, now=running, not_before=None) if job.id == str(item.id) else job
        for job in given.jobs
    ]
    kept = [one for one in given.last if not _gives_way(one, tree.label, first, last)]
    return plan(jobs, given.tree_days, kept)


def _gives_way(hold: Hold, label: str, first: date, last: date) -> bool:
    return hold.tree == label and hold.on < last and first < hold.off


def _moves(store: Store, after: Plan, others: Sequence[TreeBooking]) -> list[str]:
    """Where each of the other boots goes instead, and when it is ready then."""
    said, seen = [], set()
    for one in others:
        row = bench_board.one(store, one.item_id or 0)
        if row is None or row.id in seen:
            continue
        seen.add(row.id)
        said.append(_move(after, row, one.round_n or 1))
    return said


def _move(after: Plan, row: BoardRow, round_n: int) -> str:
    name = item_words.named(row.side, row.kind, row.number)
    boot = after.boot(str(row.id))
    hold = next((one for one in boot.holds if one.round == round_n), None) if boot else None
    if boot is None or hold is None:
        return say("No tree is free for {item} then.", item=name)
    days = {"day": say_day(hold.on), "ready": say_day(boot.ready)}
    moves = say(
        "{item} then goes on tree {tree} on {day} and could be ready {ready}.",
        item=name,
        tree=hold.tree,
        **days,
    )
    if row.promised_day and row.promised_day < boot.ready.isoformat():
        promised = say_day(date.fromisoformat(row.promised_day))
        return f"{moves} {say('It is promised for {day}.', day=promised)}"
    return moves
