"""The bench as it stands: trees and what is on them, and what is to be done, in short lists that empty themselves."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta

from fitcounter.desk.shop import Shop
from fitcounter.fit.handbook_bench import TURN_UP_AFTER_H
from fitcounter.fit.one_round import counts_from
from fitcounter.store import bench_board, rounds, trees
from fitcounter.store.bench_board import BoardRow
from fitcounter.store.bench_records import Round, TreeRow
from fitcounter.store.database import Store, utc_text, utc_time

SETTLES = timedelta(hours=TURN_UP_AFTER_H)

__all__ = ["Board", "BoardRow", "Entry", "TreeSeen", "board", "entries", "tree"]


@dataclass(frozen=True, slots=True)
class TreeSeen:
    """A tree with the boot that is on it and since when, None while it is free."""

    tree: TreeRow
    on_it: BoardRow | None
    turn: Round | None


@dataclass(frozen=True, slots=True)
class Entry:
    """An item to be done something with. at: the instant it is due, None where it is at any time. tree: its label."""

    row: BoardRow
    at: datetime | None = None
    tree: str = ""


@dataclass(frozen=True, slots=True)
class Board:
    """turn_up: on a tree and may be turned up; off: due off; read: to be measured again; decide: another go or done.

    queue: waits for the bench, in order of promised day; later: to come off or be read after today.
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


def board(store: Store, shop: Shop, now: datetime) -> Board:
    """The bench at this instant."""
    held = bench_board.open_items(store)
    seen = [tree_seen(store, one, held) for one in trees.everyone(store)]
    labels = {one.on_it.id: one.tree.label for one in seen if one.on_it}
    made = Board(seen, [], [], [], [], [], [], [], [])
    for row in held:
        _place(store, shop, now, made, row, labels.get(row.id, ""))
    made.off.sort(key=_by_time)
    made.read.sort(key=_by_time)
    made.later.sort(key=_by_time)
    return made


def tree(store: Store, tree_id: int) -> TreeSeen:
    """Raises NotFound."""
    return tree_seen(store, trees.get(store, tree_id), bench_board.open_items(store))


def retired(store: Store) -> list[TreeRow]:
    """Trees that are kept for their history only."""
    return trees.retired(store)


def tree_seen(store: Store, one: TreeRow, held: list[BoardRow]) -> TreeSeen:
    turn = rounds.on_tree(store, one.id)
    on_it = next((row for row in held if turn and row.id == turn.item_id), None)
    return TreeSeen(one, on_it, turn if on_it else None)


def _place(store: Store, shop: Shop, now: datetime, made: Board, row: BoardRow, tree: str) -> None:
    """Puts an item on the list it belongs to today."""
    today_ends = shop.local(now).replace(hour=23, minute=59, second=59)
    if row.state in ("on-tree", "resting"):
        at = _due(store, row)
        entry = Entry(row, at, tree)
        _turn_up(store, shop, now, made, entry)
        if at is not None and at > today_ends:
            made.later.append(entry)
        else:
            (made.off if row.state == "on-tree" else made.read).append(entry)
        return
    lists = {
        "to-decide": made.decide, "queued": made.queue, "prepared": made.queue, "working": made.queue, "finishing": made.finish,
        "finished": made.finish, "waiting": made.waiting, "stopped": made.waiting,
    }  # fmt: skip
    if row.state in lists:
        lists[row.state].append(Entry(row, None, tree))


def _turn_up(store: Store, shop: Shop, now: datetime, made: Board, entry: Entry) -> None:
    """On its tree since today, not turned up since it went on, and past the first hours: it may take another step."""
    turn = rounds.last(store, entry.row.id)
    if entry.row.state != "on-tree" or turn is None or turn.on_at is None or len(rounds.turns(store, turn.id)) > 1:
        return
    on_at = utc_time(turn.on_at)
    if on_at + SETTLES <= now and shop.today(on_at) >= shop.today(now) - timedelta(days=1):
        made.turn_up.append(Entry(entry.row, on_at, entry.tree))


def _due(store: Store, row: BoardRow) -> datetime | None:
    turn = rounds.last(store, row.id)
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
