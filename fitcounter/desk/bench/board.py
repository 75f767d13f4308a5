"""The bench as it stands: trees and what is on them, and what is to be done, in short lists that
empty themselves.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from datetime import datetime, timedelta
from typing import NamedTuple

from fitcounter.desk.bench import other_work
from fitcounter.desk.common import shop_days
from fitcounter.desk.common.shop_days import ShopDays
from fitcounter.desk.shop import Shop
from fitcounter.fit import item_states
from fitcounter.fit.assessment.one_round import counts_from
from fitcounter.fit.handbook.bench import TURN_UP_AFTER_H
from fitcounter.store import bench_board, plans, rounds, trees, works
from fitcounter.store.bench_board import BoardRow
from fitcounter.store.bench_records import Round, TreeRow
from fitcounter.store.database import Store, utc_text, utc_time

SETTLES = timedelta(hours=TURN_UP_AFTER_H)
ON_TREES = ("on-tree", "resting")

__all__ = ["Board", "BoardRow", "Entry", "TreeSeen", "board", "entries", "tree"]


class TreeSeen(NamedTuple):
    """A tree with the boot that is on it and since when, None while it is free.

    due_at: when the boot comes off, on the shop's own clock and in its hours.
    """

    tree: TreeRow
    on_it: BoardRow | None
    turn: Round | None
    due_at: datetime | None = None


class Entry(NamedTuple):
    """An item to be done something with.

    at: the instant it is due, in the shop's hours, or from when it has rested; None where it is at
    any time. tree: its label.
    """

    row: BoardRow
    at: datetime | None = None
    tree: str = ""


class WorkEntry(NamedTuple):
    """Work on an item that can be done now, in words."""

    row: BoardRow
    words: str


class Board(NamedTuple):
    """turn_up: on a tree and may be turned up; off: due off; read: to be measured again; decide:
    another go or done; on: goes on its planned tree, which is free, by today.

    queue: waits for the bench, rush jobs first, then in order of promised day; later: to come off
    or be read after today. work: beside the stretching, that can be done now.
    """

    trees: list[TreeSeen]
    turn_up: list[Entry]
    off: list[Entry]
    read: list[Entry]
    decide: list[Entry]
    queue: list[Entry]
    finish: list[Entry]
    waiting: list[Entry]
    later: list[Entry]
    work: list[WorkEntry]
    on: list[Entry]


def board(store: Store, shop: Shop, now: datetime) -> Board:
    """The bench at this instant."""
    held, days = bench_board.open_items(store), shop_days.of_bench(store, shop)
    running = rounds.running(store)
    seen = [_tree_seen(shop, days, one, running.get(one.id), held) for one in trees.everyone(store)]
    labels = {one.on_it.id: one.tree.label for one in seen if one.on_it}
    made, last = Board(seen, [], [], [], [], [], [], [], [], [], []), rounds.last_at_bench(store)
    made.work.extend(_work(store, held))
    for row in held:
        turn, turns = last.get(row.id, (None, 0))
        if row.state in ON_TREES:
            at = _due(row, turn)
            if at is not None and (at > now or row.state == "on-tree"):
                at = days.next_opening(shop.local(at))
            _place_round(shop, now, made, Entry(row, at, labels.get(row.id, "")), turn, turns)
        else:
            _place(made, Entry(row, None, labels.get(row.id, "")))
    made.queue.sort(key=lambda entry: not entry.row.rush)
    _planned_on(store, shop, now, made)
    made.off.sort(key=_by_time)
    made.read.sort(key=_by_time)
    made.later.sort(key=_by_time)
    return made


def _planned_on(store: Store, shop: Shop, now: datetime, made: Board) -> None:
    """What waits and goes on a free tree by today moves to a list of its own, with that tree."""
    free = {one.tree.id: one.tree.label for one in made.trees if one.on_it is None}
    today = shop.today(now).isoformat()
    goes_on = {
        one.item_id: free[one.tree_id]
        for one in plans.bookings(store)
        if one.kind == "planned" and one.from_day <= today and one.tree_id in free
    }
    waits = ("queued", "prepared")
    for one in tuple(made.queue):
        if one.row.state in waits and one.row.id in goes_on:
            made.on.append(Entry(one.row, None, goes_on[one.row.id]))
            made.queue.remove(one)


def _work(store: Store, held: Sequence[BoardRow]) -> Iterator[WorkEntry]:
    """What can be begun or is begun, by promised day of its item."""
    lines = works.all_open(store)
    for row in held:
        if row.state in (*other_work.NOT_HERE, *item_states.READY):
            continue
        for one in other_work.seen(row, lines.get(row.id, [])):
            if not one.waits:
                yield WorkEntry(row, one.words)


def on_trees(seen: Board) -> list[Entry]:
    """What is on each tree and until when, in the order of the trees."""
    return [Entry(one.on_it, one.due_at, one.tree.label) for one in seen.trees if one.on_it]


def tree(store: Store, shop: Shop, tree_id: int) -> TreeSeen:
    """Raises NotFound."""
    held, days = bench_board.open_items(store), shop_days.of_bench(store, shop)
    one = trees.get(store, tree_id)
    return _tree_seen(shop, days, one, rounds.on_tree(store, tree_id), held)


def retired(store: Store) -> list[TreeRow]:
    """Trees that are kept for their history only."""
    return trees.retired(store)


def _tree_seen(
    shop: Shop, days: ShopDays, one: TreeRow, turn: Round | None, held: list[BoardRow]
) -> TreeSeen:
    """turn: the round that is running on the tree."""
    on_it = next((row for row in held if turn and row.id == turn.item_id), None)
    if on_it is None or turn is None:
        return TreeSeen(one, None, None)
    due = shop.local(utc_time(turn.due_off_at)) if turn.due_off_at else None
    return TreeSeen(one, on_it, turn, days.next_opening(due) if due else None)


def _place(made: Board, entry: Entry) -> None:
    """Puts an item that is on no tree on the list of its state."""
    lists = {
        "to-decide": made.decide,
        "queued": made.queue,
        "prepared": made.queue,
        "working": made.queue,
        "finishing": made.finish,
        "finished": made.finish,
        "waiting": made.waiting,
        "stopped": made.waiting,
    }
    if entry.row.state in lists:
        lists[entry.row.state].append(entry)


def _place_round(
    shop: Shop, now: datetime, made: Board, entry: Entry, turn: Round | None, turns: int
) -> None:
    """Puts a boot that is on a tree or rests on today's list, or on that of later days."""
    today_ends = shop.local(now).replace(hour=23, minute=59, second=59)
    _turn_up(shop, now, made, entry, turn, turns)
    if entry.at is not None and entry.at > today_ends:
        made.later.append(entry)
    else:
        (made.off if entry.row.state == "on-tree" else made.read).append(entry)


def _turn_up(
    shop: Shop, now: datetime, made: Board, entry: Entry, turn: Round | None, turns: int
) -> None:
    if entry.row.state == "on-tree" and turn is not None and may_turn_up(shop, now, turn, turns):
        made.turn_up.append(Entry(entry.row, utc_time(turn.on_at or ""), entry.tree))


def may_turn_up(shop: Shop, now: datetime, turn: Round, turns: int) -> bool:
    """On its tree since yesterday at most, not turned up since it went on, and past the first
    hours: it may take another step. turns: of this round, its putting on counted.
    """
    if turn.on_at is None or turns > 1:
        return False
    on_at = utc_time(turn.on_at)
    return on_at + SETTLES <= now and shop.today(on_at) >= shop.today(now) - timedelta(days=1)


def _due(row: BoardRow, turn: Round | None) -> datetime | None:
    if turn is None:
        return None
    if row.state == "on-tree":
        return utc_time(turn.due_off_at) if turn.due_off_at else None
    return counts_from(utc_time(turn.off_at)) if turn.off_at else None


def _by_time(entry: Entry) -> str:
    return utc_text(entry.at) if entry.at else ""


def entries(store: Store, ids: Sequence[str]) -> list[BoardRow]:
    """Items by their ids as text, unknown ones left out."""
    found = [bench_board.one(store, int(one)) for one in ids]
    return [one for one in found if one is not None]
