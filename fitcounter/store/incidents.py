"""When the shop damaged something: what, where, whether the customer was told, and what was agreed."""

from __future__ import annotations

from fitcounter.store.bench_records import Incident
from fitcounter.store.database import Store


def of_item(store: Store, item_id: int) -> list[Incident]:
    """Newest first."""
    return store.all(Incident, "SELECT * FROM incidents WHERE item_id = ? ORDER BY id DESC", item_id)


def unsettled(store: Store) -> list[Incident]:
    """Everything still to be put right, oldest first."""
    return store.all(Incident, "SELECT * FROM incidents WHERE settled_at IS NULL ORDER BY id")
