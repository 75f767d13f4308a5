"""A fit: what the two boots of a pair share, how the legs were read and what is wanted."""

from __future__ import annotations

import json
from collections.abc import Collection

from fitcounter.errors import NotFound, message
from fitcounter.store.database import Store
from fitcounter.store.records import Fit, Item


def get(store: Store, fit_id: int) -> Fit:
    """Raises NotFound."""
    found = (
        store.first(Fit, "SELECT * FROM fits WHERE id = ?", fit_id) if 0 < fit_id < 2**63 else None
    )
    if found is None:
        raise NotFound(message("No such pair. Open its ticket."))
    return found


def some(store: Store, fit_ids: Collection[int]) -> dict[int, Fit]:
    """Those of these that there are, by id."""
    sql = "SELECT * FROM fits WHERE id IN (SELECT value FROM json_each(?))"
    return {one.id: one for one in store.all(Fit, sql, json.dumps(list(fit_ids)))}


def of_ticket(store: Store, ticket_id: int) -> list[Fit]:
    return store.all(Fit, "SELECT * FROM fits WHERE ticket_id = ? ORDER BY id", ticket_id)


def boots(store: Store, fit_id: int) -> list[Item]:
    """The boots of a fit, left first."""
    return store.all(Item, "SELECT * FROM items WHERE fit_id = ? ORDER BY side", fit_id)
