"""Something went wrong: what happened, as it was before and as it is now, what was signed, what is
agreed.
"""

from __future__ import annotations

from typing import NamedTuple

from fitcounter.store import bench_board, findings, tickets
from fitcounter.store.bench_board import BoardRow
from fitcounter.store.bench_records import Incident
from fitcounter.store.database import Store
from fitcounter.store.records import Consent, Finding, Photo


class IncidentPage(NamedTuple):
    """before, since: what was seen, and the photos, before the work and from then on.

    signed: the last consent.
    """

    incident: Incident
    row: BoardRow
    seen_before: tuple[Finding, ...]
    seen_since: tuple[Finding, ...]
    photos_before: tuple[Photo, ...]
    photos_since: tuple[Photo, ...]
    signed: Consent | None


def incident_page(store: Store, incident_id: int) -> IncidentPage:
    """Raises NotFound."""
    found = findings.get_incident(store, incident_id)
    row = bench_board.one(store, found.item_id)
    assert row is not None  # an incident belongs to an item
    seen, photos = findings.of_item(store, row.id), bench_board.photos_of(store, row.id)
    signed = tickets.consents(store, row.ticket_id)
    return IncidentPage(
        found,
        row,
        tuple(one for one in seen if one.moment == "before"),
        tuple(one for one in seen if one.moment != "before"),
        tuple(one for one in photos if one.moment == "before"),
        tuple(one for one in photos if one.moment != "before"),
        signed[-1] if signed else None,
    )
