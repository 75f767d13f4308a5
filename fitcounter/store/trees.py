"""The shop's trees and every reading of what they measure."""

from __future__ import annotations

from fitcounter.errors import NotFound, message
from fitcounter.store.bench_records import Calibration, TreeRow
from fitcounter.store.database import Store


def everyone(store: Store) -> list[TreeRow]:
    """All trees but the retired ones, by label."""
    return store.all(
        TreeRow, "SELECT * FROM trees WHERE state <> 'retired' ORDER BY length(label), label"
    )


def retired(store: Store) -> list[TreeRow]:
    return store.all(
        TreeRow, "SELECT * FROM trees WHERE state = 'retired' ORDER BY length(label), label"
    )


def get(store: Store, tree_id: int) -> TreeRow:
    """Raises NotFound."""
    found = store.first(TreeRow, "SELECT * FROM trees WHERE id = ?", tree_id)
    if found is None:
        raise NotFound(message("No such tree. Pick one from the list, or add it."))
    return found


def by_label(store: Store, label: str) -> TreeRow | None:
    """A tree by what is written on it, without regard to case."""
    return store.first(TreeRow, "SELECT * FROM trees WHERE lower(label) = lower(?)", label)


def calibration(store: Store, tree_id: int) -> list[Calibration]:
    """Every girth of a tree at a setting, bare or off a boot, oldest first."""
    return store.all(
        Calibration, "SELECT * FROM tree_calibration WHERE tree_id = ? ORDER BY id", tree_id
    )


def all_calibration(store: Store) -> dict[int, list[Calibration]]:
    """The same for every tree in one reading."""
    found: dict[int, list[Calibration]] = {}
    for point in store.all(Calibration, "SELECT * FROM tree_calibration ORDER BY id"):
        found.setdefault(point.tree_id, []).append(point)
    return found


def strike_reading(store: Store, tree_id: int, point_id: int) -> None:
    """Takes one reading of a tree away, inside a write."""
    store.db.execute(
        "DELETE FROM tree_calibration WHERE id = ? AND tree_id = ?", [point_id, tree_id]
    )
