"""What was seen on an item, with the place and the moment; and incidents: what the shop damaged,
whether the customer was told, and what was agreed.
"""

from __future__ import annotations

import json
from collections import defaultdict
from collections.abc import Iterable, Sequence

from fitcounter.errors import NotFound, message
from fitcounter.fit.item_names import State
from fitcounter.store.bench_records import Incident
from fitcounter.store.database import Act, Store, marks, utc_text
from fitcounter.store.records import Finding, Item


def of_item(store: Store, item_id: int) -> list[Finding]:
    """Oldest first."""
    return store.all(Finding, "SELECT * FROM findings WHERE item_id = ? ORDER BY id", item_id)


def of_items(store: Store, item_ids: Sequence[int]) -> dict[int, list[Finding]]:
    """Of each of these items that has any, by item, oldest first."""
    found: dict[int, list[Finding]] = defaultdict(list)
    sql = f"SELECT * FROM findings WHERE item_id IN ({marks(item_ids)}) ORDER BY id"
    for one in store.all(Finding, sql, *item_ids):
        found[one.item_id].append(one)
    return found


def not_looked_at(store: Store, ticket_id: int) -> set[int]:
    """Items that came in after their ticket was opened: nobody was asked what is to be seen on
    them.
    """
    sql = (
        "SELECT s.item_id FROM steps s JOIN items i ON i.id = s.item_id WHERE i.ticket_id = ? AND"
        " s.step = 'arrive' AND NOT EXISTS (SELECT 1 FROM audit a WHERE a.ticket_id = i.ticket_id"
        " AND a.at = s.saved_at AND a.what IN ('ticket-opened', 'items-added'))"
    )
    return {int(row["item_id"]) for row in store.rows(sql, ticket_id)}


def add(
    store: Store,
    act: Act,
    item_id: int,
    word: str,
    when: tuple[str, int | None] = ("before", None),
    *,
    place: str = "",
    note: str = "",
) -> int:
    """Adds one, inside a write. when: before, round (with its number) or after."""
    moment, round_n = when
    row = {"item_id": item_id, "moment": moment, "round_n": round_n, "word": word}
    seen = {"seen_at": utc_text(act.at), "staff_id": act.staff_id}
    return store.insert("findings", **row, place=place, note=note, **seen)


def get_incident(store: Store, incident_id: int) -> Incident:
    """Raises NotFound."""
    found = (
        store.first(Incident, "SELECT * FROM incidents WHERE id = ?", incident_id)
        if 0 < incident_id < 2**63
        else None
    )
    if found is None:
        raise NotFound(message("No such record. Open the item."))
    return found


def problems(store: Store, held: Iterable[Item]) -> dict[int, str]:
    """Of the stopped ones among these items what went wrong and is not settled, by item."""
    stopped = [one.id for one in held if one.state == State.STOPPED]
    if not stopped:
        return {}
    sql = (
        "SELECT item_id, what FROM incidents WHERE settled_at IS NULL AND item_id IN"
        " (SELECT value FROM json_each(?)) ORDER BY id"
    )
    return {row["item_id"]: row["what"] for row in store.rows(sql, json.dumps(stopped))}


def incidents_of_item(store: Store, item_id: int) -> list[Incident]:
    """Newest first."""
    return store.all(
        Incident, "SELECT * FROM incidents WHERE item_id = ? ORDER BY id DESC", item_id
    )
