"""A tree that will not do for a boot: what is on it, and what a person would do next."""

from __future__ import annotations

from datetime import datetime
from typing import Any, NamedTuple

from fitcounter.desk.common import shop_days
from fitcounter.desk.common.state_changes import StepInput, write_step
from fitcounter.desk.common.translation import say
from fitcounter.desk.rounds.round_rows import off_the_tree, running_round, stored_round
from fitcounter.desk.shop import Shop
from fitcounter.desk.trees import tree_bookings
from fitcounter.desk.trees.tree_choice import ranked
from fitcounter.errors import BadInput
from fitcounter.fit.item_names import State
from fitcounter.store import bench_board, items, rounds, trees
from fitcounter.store.bench_board import BoardRow
from fitcounter.store.bench_records import TreeRow
from fitcounter.store.database import Act, Store, utc_time
from fitcounter.store.records import Item
from fitcounter.store.undos import Writes

MOST_OTHERS = 3
SWAP = ">"  # between the id of a boot and the tree it moves to


class TreeTaken(NamedTuple):
    """tree: its label. on_it: the other boot that is on it now, where it may come off.

    others: labels of free trees that serve the boot, best first, at most MOST_OTHERS. until: when
    the other boot comes off, where its hold runs until a later day; swap_to: a free tree on which
    that hold can go on, "" where there is none.
    """

    tree: str
    on_it: BoardRow | None
    others: tuple[str, ...]
    until: datetime | None = None
    swap_to: str = ""


def tree_taken(
    store: Store, shop: Shop, item_id: int, label: str, now: datetime
) -> TreeTaken | None:
    """None where no tree has that label: it is typed again. Raises NotFound."""
    tree = trees.by_label(store, label.strip())
    if tree is None:
        return None
    item = items.get(store, item_id)
    serving = _serve(store, shop, item_id, tree)
    on_it = _on_it(store, item, tree)
    until = _until(store, shop, tree, now) if on_it else None
    swap_to = _serve(store, shop, on_it.id, tree) if on_it and until else []
    others = tuple(serving[:MOST_OTHERS])
    return TreeTaken(tree.label, on_it, others, until, swap_to[0] if swap_to else "")


def free_tree(
    store: Store, act: Act, shop: Shop, item: Item, tree: TreeRow, at: datetime, other: str
) -> None:
    """Takes the other boot off a tree, or moves it to another tree, inside the write that puts this
    one on; a step of its own.

    other: as sent, the id of the boot that was named, and where it moves, `SWAP` and the label of
    that tree; nothing is done where another boot is on it by now. Raises BadInput for a time before
    that boot went on, and for a tree that will not do for it by now.
    """
    row = _on_it(store, item, tree)
    other_id, _, label = other.partition(SWAP)
    if row is None or str(row.id) != other_id:
        return
    on_it = items.get(store, row.id)
    writes = Writes(store, on_it, {})
    if label:
        step, detail = "turn-up", _move(writes, shop, tree, label)
    else:
        step, detail = "take-off", off_the_tree(store, writes, on_it, at, "")
    writes.keep(step)
    write_step(store, act, on_it, step, StepInput(at, detail=detail))


def _move(writes: Writes, shop: Shop, tree: TreeRow, label: str) -> dict[str, Any]:
    """The round goes on on another tree, until the same day; returns the step's detail."""
    store, item = writes.store, writes.item
    if label not in _serve(store, shop, item.id, tree):
        words = say("Tree {tree} will not do for the other boot. Pick another tree.", tree=label)
        raise BadInput(words, field="tree", typed=tree.label)
    to, running = tree_bookings.named_tree(store, label), running_round(writes, item)
    writes.change("rounds", running.id, tree_id=to.id, shift_um=0)
    due_at = utc_time(running.due_off_at or running.on_at or "")
    tree_bookings.stretch(store, shop, item, stored_round(writes, item), due_at)
    return {"round": running.n, "tree": to.label}


def _serve(store: Store, shop: Shop, item_id: int, tree: TreeRow) -> list[str]:
    """Labels of other trees that are free and serve the boot, best first."""
    found = ranked(store, items.get(store, item_id), shop.unit).labels
    return [one for one in found if one != tree.label]


def _until(store: Store, shop: Shop, tree: TreeRow, now: datetime) -> datetime | None:
    """When the boot on it comes off, in the shop's hours, where that is on a later day."""
    busy = rounds.on_tree(store, tree.id)
    if busy is None or busy.due_off_at is None:
        return None
    due = utc_time(busy.due_off_at)
    at = shop_days.of_bench(store, shop).next_opening(shop.local(due))
    return at if due > now and at.date() > shop.today(now) else None


def _on_it(store: Store, item: Item, tree: TreeRow) -> BoardRow | None:
    busy = rounds.on_tree(store, tree.id)
    row = bench_board.one(store, busy.item_id) if busy else None
    if row is None or row.id == item.id or row.state != State.ON_TREE:
        return None
    return row
