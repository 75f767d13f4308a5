"""A tree that will not do for a boot: what is on it, and what a person would do next."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime

from fitcounter.desk.bench.round_rows import off_the_tree
from fitcounter.desk.bench.tree_choice import ranked
from fitcounter.desk.common.item_steps import StepInput, write_step
from fitcounter.desk.shop import Shop
from fitcounter.fit.item_names import State
from fitcounter.store import bench_board, items, rounds, trees
from fitcounter.store.bench_board import BoardRow
from fitcounter.store.bench_records import TreeRow
from fitcounter.store.database import Act, Store
from fitcounter.store.records import Item
from fitcounter.store.undos import Writes

MOST_OTHERS = 3


@dataclass(frozen=True, slots=True)
class TreeTaken:
    """tree: its label. on_it: the other boot that is on it now, where it may come off.

    others: labels of free trees that serve the boot, best first, at most MOST_OTHERS.
    """

    tree: str
    on_it: BoardRow | None
    others: tuple[str, ...]


def tree_taken(store: Store, shop: Shop, item_id: int, label: str) -> TreeTaken | None:
    """None where no tree has that label: it is typed again. Raises NotFound."""
    tree = trees.by_label(store, label.strip())
    if tree is None:
        return None
    item = items.get(store, item_id)
    serving = [one for one in ranked(store, item, shop.unit).labels if one != tree.label]
    return TreeTaken(tree.label, _on_it(store, item, tree), tuple(serving[:MOST_OTHERS]))


def take_other_off(
    store: Store, act: Act, item: Item, tree: TreeRow, at: datetime, other_id: str
) -> None:
    """Takes the other boot off a tree inside the write that puts this one on; a step of its own.

    other_id: of the boot that was said to come off, as sent; nothing is done where another one is
    on it by now. Raises BadInput for a time before that boot went on.
    """
    row = _on_it(store, item, tree)
    if row is None or str(row.id) != other_id:
        return
    other = items.get(store, row.id)
    writes = Writes(store, other, {})
    detail = off_the_tree(store, writes, other, at, "")
    writes.keep("take-off")
    write_step(store, act, other, "take-off", StepInput(at, detail=detail))


def _on_it(store: Store, item: Item, tree: TreeRow) -> BoardRow | None:
    busy = rounds.on_tree(store, tree.id)
    row = bench_board.one(store, busy.item_id) if busy else None
    if row is None or row.id == item.id or row.state != State.ON_TREE:
        return None
    return row
