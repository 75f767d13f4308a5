"""What a ticket costs and what was paid on it.

Money is whole minor units; card numbers are never kept.
"""

from __future__ import annotations

from dataclasses import asdict, dataclass

from fitcounter.store.database import Act, Store, utc_text
from fitcounter.store.records import Payment, PriceLine


def any_line(store: Store) -> bool:
    """Whether anything was ever priced."""
    return bool(store.value("SELECT EXISTS (SELECT 1 FROM price_lines)"))


def lines(store: Store, ticket_id: int) -> list[PriceLine]:
    return store.all(
        PriceLine, "SELECT * FROM price_lines WHERE ticket_id = ? ORDER BY position, id", ticket_id
    )


def payments(store: Store, ticket_id: int) -> list[Payment]:
    return store.all(
        Payment, "SELECT * FROM payments WHERE ticket_id = ? ORDER BY at, id", ticket_id
    )


@dataclass(frozen=True, slots=True)
class NewLine:
    """A price line to be. kind: flat, round, job or reduction. item_id: of what it is about."""

    what: str
    kind: str
    amount_minor: int
    quantity: int = 1
    item_id: int | None = None


def add_line(store: Store, ticket_id: int, line: NewLine) -> int:
    """Adds a price line after the others, inside a write."""
    position = int(store.value("SELECT count(*) FROM price_lines WHERE ticket_id = ?", ticket_id))
    return store.insert("price_lines", ticket_id=ticket_id, position=position, **asdict(line))


def pay(
    store: Store, act: Act, ticket_id: int, kind: str, amount_minor: int, note: str = ""
) -> int:
    """Adds a payment, inside a write. kind: deposit, payment, refund or correction."""
    row = {
        "ticket_id": ticket_id,
        "at": utc_text(act.at),
        "kind": kind,
        "amount_minor": amount_minor,
    }
    return store.insert("payments", **row, staff_id=act.staff_id, note=note)
