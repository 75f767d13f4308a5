"""What a bench step wrote, kept so that the last one can be taken back.

Only ids and former values; gone with the step.
"""

from __future__ import annotations

import json
from typing import Any

from fitcounter.store.bench_records import StepRow
from fitcounter.store.database import Store
from fitcounter.store.records import Item


class Writes:
    """The writes of one step, each with what stood there before. Used inside one write."""

    def __init__(self, store: Store, item: Item, columns: dict[str, object]) -> None:
        """columns: the item's own columns that the step changes beside its state."""
        self.store = store
        self.item = item
        self.after = store.value("SELECT max(id) FROM steps WHERE item_id = ?", item.id) or 0
        names = {"state", "state_before", "since", *columns}
        self.back: list[tuple[str, int, dict[str, Any] | None]] = [
            ("items", item.id, {name: getattr(item, name) for name in sorted(names)})
        ]

    def insert(self, table: str, **columns: object) -> int:
        return self.made(table, self.store.insert(table, **columns))

    def made(self, table: str, row_id: int) -> int:
        """A row that was added elsewhere in the same write: it goes when the step is taken back."""
        self.back.append((table, row_id, None))
        return row_id

    def change(self, table: str, row_id: int, **columns: object) -> None:
        before = self.store.rows(f"SELECT {', '.join(columns)} FROM {table} WHERE id = ?", row_id)[
            0
        ]
        self.store.change(table, row_id, None, **columns)
        self.back.append((table, row_id, before))

    def keep(self, step: str) -> None:
        """Keeps the way back, with the step before as its foot."""
        self.store.insert(
            "undos",
            item_id=self.item.id,
            step=step,
            after_step_id=self.after,
            back=json.dumps(self.back),
        )


def last(store: Store, item_id: int) -> tuple[int, list[StepRow]] | None:
    """The way back of an item's last step: its id and the rows of steps it would strike, newest
    last. None where there is none.
    """
    row, struck = _last(store, item_id)
    return (row["id"], struck) if struck and struck[-1].step == row["step"] else None


def last_named(store: Store, item_id: int, name: str) -> tuple[int, list[StepRow]] | None:
    """The same where the way back was kept under another name than its step's."""
    row, struck = _last(store, item_id)
    return (row["id"], struck) if struck and row["step"] == name else None


def _last(store: Store, item_id: int) -> tuple[dict[str, Any], list[StepRow]]:
    row = next(
        iter(store.rows("SELECT * FROM undos WHERE item_id = ? ORDER BY id DESC LIMIT 1", item_id)),
        None,
    )
    if row is None:
        return {}, []
    struck = store.all(
        StepRow,
        "SELECT * FROM steps WHERE item_id = ? AND id > ? AND undone_at IS NULL ORDER BY id",
        item_id,
        row["after_step_id"],
    )
    return row, struck


def added(store: Store, undo_id: int, table: str) -> list[int]:
    """Ids of the rows that the step added to a table."""
    back = json.loads(store.value("SELECT back FROM undos WHERE id = ?", undo_id))
    return [int(row_id) for name, row_id, before in back if name == table and before is None]


def take_back(store: Store, undo_id: int, struck: list[StepRow], at: str) -> None:
    """Puts everything back as it stood and strikes the step's rows, inside a write."""
    row = store.rows("SELECT * FROM undos WHERE id = ?", undo_id)[0]
    for table, row_id, before in reversed(json.loads(row["back"])):
        if before is None:
            store.db.execute(f"DELETE FROM {table} WHERE id = ?", [row_id])
        else:
            store.change(table, row_id, **before)
    store.db.execute("UPDATE items SET version = version + 1 WHERE id = ?", [row["item_id"]])
    for step in struck:
        store.change("steps", step.id, undone_at=at)
    store.db.execute("DELETE FROM undos WHERE id = ?", [undo_id])
