"""Short lists in words that empty themselves when the work is done, and finding a job from whatever is at hand."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime

from fitcounter.desk import money
from fitcounter.desk.shop import Shop
from fitcounter.errors import NotFound
from fitcounter.fit import progress
from fitcounter.fit.tagcode import read_code
from fitcounter.store import bills, customers, items, tags, tickets
from fitcounter.store.database import Store
from fitcounter.store.records import Customer, Item, Ticket


@dataclass(frozen=True, slots=True)
class Row:
    """One ticket as one line: whose, where each thing is, what is owed in minor units, and whether it is all here."""

    ticket: Ticket
    customer: Customer
    items: list[Item]
    due_minor: int
    ready: bool


def shelved(store: Store, shop: Shop, now: datetime) -> list[Row]:
    """Tickets with something on the shelf, those that are all here first, then by promised day."""
    rows = [row_of(store, ticket) for ticket in tickets.open_tickets(store)]
    rows = [row for row in rows if any(one.state in progress.READY for one in row.items)]
    return sorted(rows, key=lambda row: (not row.ready, row.ticket.promise_day or "9999", row.ticket.number))


def row_of(store: Store, ticket: Ticket) -> Row:
    held = items.of_ticket(store, ticket.id)
    total = money.sums(ticket, bills.lines(store, ticket.id), bills.payments(store, ticket.id))
    customer = customers.get(store, ticket.customer_id)
    return Row(ticket, customer, held, total.due_minor, progress.ready(one.state for one in held))


def item_of_code(store: Store, typed: str) -> Item:
    """The item a tag hangs on, from its whole address or its typed code. Raises BadInput (misread) or NotFound."""
    tag = tags.by_code(store, read_code(typed.strip().rsplit("/", 1)[-1]))
    if tag.item_id is None:
        raise NotFound("Nothing is tied to that tag yet. Type the number on it, or bind it to a boot first.", field="scan")
    return items.get(store, tag.item_id)
