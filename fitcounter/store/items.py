"""Items: one physical thing that can be handed over. A pair of boots is two."""

from __future__ import annotations

from fitcounter.errors import NotFound, message
from fitcounter.store.bench_records import StepRow
from fitcounter.store.database import Store
from fitcounter.store.records import Item


def get(store: Store, item_id: int) -> Item:
    """Raises NotFound."""
    found = store.first(Item, "SELECT * FROM items WHERE id = ?", item_id)
    if found is None:
        raise _none()
    return found


def _none() -> NotFound:
    return NotFound(message("No such item. Scan its tag or type its number."))


def of_ticket(store: Store, ticket_id: int) -> list[Item]:
    return store.all(
        Item, "SELECT * FROM items WHERE ticket_id = ? ORDER BY letter, side", ticket_id
    )


def with_ticket(store: Store, item_id: int) -> tuple[Item, list[Item]]:
    """An item, and everything on its ticket in the order of `of_ticket`. Raises NotFound."""
    sql = (
        "SELECT * FROM items WHERE ticket_id = (SELECT ticket_id FROM items WHERE id = ?)"
        " ORDER BY letter, side"
    )
    held = store.all(Item, sql, item_id)
    if not held:
        raise _none()
    return next(one for one in held if one.id == item_id), held


def steps(store: Store, item_id: int) -> list[StepRow]:
    """Oldest first."""
    return store.all(StepRow, "SELECT * FROM steps WHERE item_id = ? ORDER BY id", item_id)


def open_boots(store: Store) -> list[Item]:
    """Boots to be stretched that are neither handed over nor closed, in order of arrival."""
    sql = (
        "SELECT * FROM items INDEXED BY items_state WHERE work = 'stretch' AND fit_id IS NOT NULL"
        " AND state NOT IN ('out', 'closed') ORDER BY ticket_id, id"
    )
    return store.all(Item, sql)
