"""Rounds of a boot on the tree, and the turns within each."""

from __future__ import annotations

import json
from collections import defaultdict
from collections.abc import Collection, Sequence

from fitcounter.store.bench_records import Round, Turn
from fitcounter.store.database import Store, marks


def of_item(store: Store, item_id: int) -> list[Round]:
    """Oldest first."""
    return store.all(Round, "SELECT * FROM rounds WHERE item_id = ? ORDER BY n", item_id)


def of_items(store: Store, item_ids: Sequence[int]) -> dict[int, list[Round]]:
    """Of each of these boots that has any, by item, oldest first."""
    found: dict[int, list[Round]] = defaultdict(list)
    sql = f"SELECT * FROM rounds WHERE item_id IN ({marks(item_ids)}) ORDER BY n"
    for one in store.all(Round, sql, *item_ids):
        found[one.item_id].append(one)
    return found


def last(store: Store, item_id: int) -> Round | None:
    return store.first(
        Round, "SELECT * FROM rounds WHERE item_id = ? ORDER BY n DESC LIMIT 1", item_id
    )


def last_of_items(store: Store, item_ids: Collection[int]) -> dict[int, Round]:
    """The last round of each of these items that had one, by item."""
    sql = (
        "SELECT r.* FROM json_each(?) AS wanted JOIN rounds r ON r.item_id = wanted.value AND"
        " r.n = (SELECT max(n) FROM rounds WHERE item_id = wanted.value)"
    )
    return {one.item_id: one for one in store.all(Round, sql, json.dumps(list(item_ids)))}


# "not in" for the index of what is still here
_AT_BENCH = """SELECT * FROM rounds r
  WHERE item_id IN (SELECT id FROM items WHERE state IN ('on-tree', 'resting')
  AND state NOT IN ('out', 'closed'))
  AND n = (SELECT max(n) FROM rounds WHERE item_id = r.item_id)"""


def last_at_bench(store: Store) -> dict[int, tuple[Round, int]]:
    """By item, of every boot that is on a tree or resting: its last round, and how many turns that
    has had.
    """
    counted = (
        f"SELECT t.round_id, count(*) AS turns FROM turns t JOIN ({_AT_BENCH}) r ON r.id ="
        " t.round_id GROUP BY t.round_id"
    )
    turned = {row["round_id"]: row["turns"] for row in store.rows(counted)}
    return {one.item_id: (one, turned.get(one.id, 0)) for one in store.all(Round, _AT_BENCH)}


def turns(store: Store, round_id: int) -> list[Turn]:
    """Oldest first; the first is the setting it went on with."""
    return store.all(Turn, "SELECT * FROM turns WHERE round_id = ? ORDER BY n", round_id)


def turns_of_item(store: Store, item_id: int) -> list[Turn]:
    """The turns of all its rounds, oldest first."""
    sql = (
        "SELECT t.* FROM turns t JOIN rounds r ON r.id = t.round_id WHERE r.item_id = ? ORDER BY"
        " r.n, t.n"
    )
    return store.all(Turn, sql, item_id)


def turns_of(store: Store, round_ids: Sequence[int]) -> dict[int, list[Turn]]:
    """The turns of these rounds, by round, oldest first."""
    found: dict[int, list[Turn]] = defaultdict(list)
    sql = f"SELECT * FROM turns WHERE round_id IN ({marks(round_ids)}) ORDER BY n"
    for one in store.all(Turn, sql, *round_ids):
        found[one.round_id].append(one)
    return found


def on_tree(store: Store, tree_id: int) -> Round | None:
    """The round that is running on a tree now."""
    sql = (
        "SELECT * FROM rounds WHERE tree_id = ? AND on_at IS NOT NULL AND off_at IS NULL ORDER BY"
        " id DESC LIMIT 1"
    )
    return store.first(Round, sql, tree_id)


def running(store: Store) -> dict[int, Round]:
    """By tree, the round that is running on it now."""
    sql = (
        "SELECT * FROM rounds WHERE tree_id IS NOT NULL AND on_at IS NOT NULL AND off_at IS NULL"
        " ORDER BY tree_id, id"
    )
    return {one.tree_id: one for one in store.all(Round, sql) if one.tree_id is not None}


def other_on_tree(store: Store, tree_id: int, item_id: int) -> bool:
    """Is another item than this on the tree now?"""
    sql = (
        "SELECT 1 FROM rounds WHERE tree_id = ? AND item_id <> ? AND on_at IS NOT NULL AND off_at"
        " IS NULL"
    )
    return store.value(sql, tree_id, item_id) is not None
