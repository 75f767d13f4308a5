"""What the front desk's lists are made from: every open ticket, or some others, in four statements,
whatever the number of closed ones.
"""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date
from typing import NamedTuple

from fitcounter.store.database import Store
from fitcounter.store.records import Customer, Item, Ticket

OPEN = "SELECT id FROM tickets WHERE state = 'open'"


class CallRecord(NamedTuple):
    """The last call about a ticket: how it went, and the day to ask again, None where it is
    settled.

    moved_from, moved_to: the promised day before and after, where the customer was told of a new
    one.
    """

    ticket_id: int
    about: str
    how: str
    at: str
    again_day: str | None
    moved_from: str | None = None
    moved_to: str | None = None


def open_tickets(store: Store) -> list[Ticket]:
    """By promised day, those without one last."""
    return store.all(
        Ticket,
        "SELECT * FROM tickets WHERE state = 'open' ORDER BY promise_day IS NULL, promise_day,"
        " number",
    )


def of_these(tickets: Iterable[Ticket]) -> str:
    """Their ids, as the functions below take them in the place of the open ones."""
    return ", ".join(str(int(one.id)) for one in tickets)


def customers(store: Store, ids: str = OPEN) -> dict[int, Customer]:
    """The customers of open tickets, by id."""
    sql = (
        f"SELECT * FROM customers WHERE id IN (SELECT customer_id FROM tickets WHERE id IN ({ids}))"
    )
    return {one.id: one for one in store.all(Customer, sql)}


def items(store: Store, ids: str = OPEN) -> dict[int, list[Item]]:
    """The items of open tickets, by ticket, in order of letter and side."""
    found: dict[int, list[Item]] = {}
    for one in store.all(
        Item, f"SELECT * FROM items WHERE ticket_id IN ({ids}) ORDER BY letter, side"
    ):
        found.setdefault(one.ticket_id, []).append(one)
    return found


def listed_minor(store: Store, ids: str = OPEN) -> dict[int, tuple[int, int]]:
    """What the price lines of open tickets come to before tax: those that are taxed, the others."""
    sql = (
        "SELECT ticket_id, sum(taxable * quantity * amount_minor) AS taxed, sum((1 - taxable) *"
        f" quantity * amount_minor) AS plain FROM price_lines WHERE ticket_id IN ({ids}) GROUP BY"
        " ticket_id"
    )
    return {row["ticket_id"]: (row["taxed"], row["plain"]) for row in store.rows(sql)}


def paid_minor(store: Store, ids: str = OPEN) -> dict[int, int]:
    """What was paid on open tickets, refunds taken off."""
    sql = (
        "SELECT ticket_id, sum(CASE kind WHEN 'refund' THEN -amount_minor ELSE amount_minor END)"
        f" AS sum FROM payments WHERE ticket_id IN ({ids}) GROUP BY ticket_id"
    )
    return {row["ticket_id"]: row["sum"] for row in store.rows(sql)}


def asked(store: Store) -> dict[int, CallRecord]:
    """The last call about each open ticket."""
    sql = (
        "SELECT ticket_id, about, how, at, again_day, moved_from, moved_to FROM calls"
        f" WHERE id IN (SELECT max(id) FROM calls WHERE ticket_id IN ({OPEN}) GROUP BY ticket_id)"
    )
    return {one.ticket_id: one for one in store.all(CallRecord, sql)}


def fetched_on(store: Store, first: str, last: str) -> list[Ticket]:
    """Handed over between two instants, newest first."""
    sql = (
        "SELECT * FROM tickets WHERE handed_over_at >= ? AND handed_over_at < ? ORDER BY"
        " handed_over_at DESC"
    )
    return store.all(Ticket, sql, first, last)


def guarantee_ends(store: Store, first: date, last: date) -> list[Ticket]:
    """Picked up, and covered until a day from `first` to `last`, the earliest first."""
    return store.all(
        Ticket,
        "SELECT * FROM tickets WHERE state = 'out' AND guarantee_end BETWEEN ? AND ?"
        " ORDER BY guarantee_end, id",
        first.isoformat(),
        last.isoformat(),
    )
