"""The owner's own entries of the list of work, and what they changed of the usual ones."""

from __future__ import annotations

from typing import NamedTuple

from fitcounter.errors import NotFound, message
from fitcounter.store.database import Store


class PriceEntryRow(NamedTuple):
    """code: of a usual entry, "" for the owner's own. what: "" where a usual name stands.
    price_minor: for each boot or item, None where it is asked for each time; size_minor: for each
    inch or centimeter more. answer: what is said of work that is not done here. offered: 0 where
    it is not on the list any more.
    """

    id: int
    code: str
    what: str
    price_minor: int | None
    size_minor: int
    days: int
    timing: str
    taxable: int
    answer: str
    offered: int
    version: int


def everything(store: Store) -> list[PriceEntryRow]:
    return store.all(PriceEntryRow, "SELECT * FROM price_list ORDER BY id")


def get(store: Store, entry_id: int) -> PriceEntryRow:
    """Raises NotFound."""
    found = store.first(PriceEntryRow, "SELECT * FROM price_list WHERE id = ?", entry_id)
    if found is None:
        raise NotFound(message("No such entry in the price list."))
    return found


def put(store: Store, entry_id: int | None, version: int | None, **columns: object) -> int:
    """Adds an entry or changes one, inside a write; its id. Raises Conflict for another version."""
    if entry_id is None:
        return store.insert("price_list", **columns)
    store.change("price_list", entry_id, version, **columns)
    return entry_id
