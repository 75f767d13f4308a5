"""Readings across tables for the bench: every open item with its ticket's number and customer, as
one statement each.
"""

from __future__ import annotations

from collections.abc import Collection
from typing import NamedTuple

from fitcounter.store.database import Store, marks
from fitcounter.store.records import Photo


class BoardRow(NamedTuple):
    """An item at the bench.

    number, rush, customer: of its ticket. promised_day: its own, else the ticket's. problem: what
    went wrong with one that is stopped, "" where that is settled.
    """

    id: int
    ticket_id: int
    fit_id: int | None
    letter: str
    kind: str
    side: str | None
    work: str
    description: str
    jobs: str
    state: str
    since: str
    waits_for: str
    waits_what: str
    shelf: str
    number: int
    rush: int
    customer: str
    promised_day: str | None
    problem: str


_BOARD = """
SELECT i.id, i.ticket_id, i.fit_id, i.letter, i.kind, i.side, i.work, i.description, i.jobs,
  i.state, i.since, i.waits_for, i.waits_what, i.shelf,
  t.number, t.rush, c.name AS customer,
  coalesce(i.promised_day,
  CASE WHEN t.handed_over_at IS NULL THEN t.promise_day END) AS promised_day,
  CASE WHEN i.state = 'stopped' THEN coalesce((SELECT what FROM incidents
  WHERE item_id = i.id AND settled_at IS NULL ORDER BY id DESC LIMIT 1), '') ELSE '' END AS problem
FROM items i JOIN tickets t ON t.id = i.ticket_id JOIN customers c ON c.id = t.customer_id
"""


def open_items(store: Store) -> list[BoardRow]:
    """Everything that is neither handed over nor closed, by promised day, then by arrival."""
    sql = (
        _BOARD
        + "WHERE i.state NOT IN ('out', 'closed') ORDER BY promised_day IS NULL, promised_day, i.id"
    )
    return store.all(BoardRow, sql)


def one(store: Store, item_id: int) -> BoardRow | None:
    """item_id: any number that stood in an address; None where no item has it."""
    return (
        store.first(BoardRow, _BOARD + "WHERE i.id = ?", item_id) if 0 < item_id < 2**63 else None
    )


def of_customers(store: Store, ids: Collection[int]) -> list[BoardRow]:
    """Everything on open tickets of these customers."""
    if not ids:
        return []
    sql = (
        _BOARD
        + f"WHERE t.state = 'open' AND c.id IN ({marks(ids)}) ORDER BY t.number, i.letter, i.side"
    )
    return store.all(BoardRow, sql, *ids)


def photos_of(store: Store, item_id: int) -> list[Photo]:
    """Newest first, erased ones left out."""
    return store.all(
        Photo,
        "SELECT * FROM photos WHERE item_id = ? AND erased_at IS NULL ORDER BY id DESC",
        item_id,
    )


def numbered(store: Store, number: int) -> list[BoardRow]:
    """Items of the open ticket with this spoken number, and the one whose own living tag has it."""
    sql = (
        _BOARD
        + "WHERE (t.number = ? AND t.state = 'open') OR i.id IN (SELECT item_id FROM tags WHERE"
        " number = ? AND died_at IS NULL AND item_id IS NOT NULL) ORDER BY i.letter, i.side"
    )
    return store.all(BoardRow, sql, number, number)
