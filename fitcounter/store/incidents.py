"""When the shop damaged something: what, where, whether the customer was told, and what was
agreed.
"""

from __future__ import annotations

from fitcounter.errors import NotFound
from fitcounter.store.bench_records import Incident
from fitcounter.store.database import Store


def get(store: Store, incident_id: int) -> Incident:
    """Raises NotFound."""
    found = (
        store.first(Incident, "SELECT * FROM incidents WHERE id = ?", incident_id)
        if 0 < incident_id < 2**63
        else None
    )
    if found is None:
        raise NotFound("There is no such record. Go to the item.")
    return found


def of_item(store: Store, item_id: int) -> list[Incident]:
    """Newest first."""
    return store.all(
        Incident, "SELECT * FROM incidents WHERE item_id = ? ORDER BY id DESC", item_id
    )
