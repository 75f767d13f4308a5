"""Calls, texts and letters about a ticket."""

from __future__ import annotations

from fitcounter.store.database import Store
from fitcounter.store.lists import Asked


def of_ticket(store: Store, ticket_id: int) -> list[Asked]:
    """Oldest first."""
    return store.all(
        Asked,
        "SELECT ticket_id, about, how, at, again_day FROM calls WHERE ticket_id = ? ORDER BY id",
        ticket_id,
    )
