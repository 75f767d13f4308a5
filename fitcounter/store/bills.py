"""What a ticket costs and what was paid on it.

Money is whole minor units; card numbers are never kept.
"""

from __future__ import annotations

from typing import NamedTuple

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


class NewLine(NamedTuple):
    """A price line to be. kind: flat, round, job or reduction. item_id: of what it is about."""

    what: str
    kind: str
    amount_minor: int
    quantity: int = 1
    item_id: int | None = None
    taxable: int = 1


def add_line(store: Store, ticket_id: int, line: NewLine) -> int:
    """Adds a price line after the others, inside a write."""
    position = store.value(
        "SELECT coalesce(max(position), -1) + 1 FROM price_lines WHERE ticket_id = ?", ticket_id
    )
    row_id = store.insert(
        "price_lines",
        ticket_id=ticket_id,
        position=position,
        what=line.what,
        kind=line.kind,
        amount_minor=line.amount_minor,
        quantity=line.quantity,
        item_id=line.item_id,
    )
    if not line.taxable:
        store.change("price_lines", row_id, taxable=0)
    return row_id


def take_off(
    store: Store, ticket_id: int, what: str, amount_minor: int, why: str = "", taxable: int = 1
) -> int:
    """Adds a line that lowers the price, inside a write. amount_minor: above 0, so much less.

    taxable: 0 where the tax stays as it is.
    """
    row_id = add_line(store, ticket_id, NewLine(what, "reduction", -amount_minor))
    store.change("price_lines", row_id, why=why, taxable=taxable)
    return row_id


def change_line(store: Store, line: PriceLine, what: str, amount_minor: int) -> None:
    """Another text or amount for a line, inside a write."""
    store.change("price_lines", line.id, what=what, amount_minor=amount_minor)


def remove_line(store: Store, line: PriceLine) -> None:
    """Takes a line out, inside a write: the agreements keep what stood there."""
    store.db.execute("DELETE FROM price_lines WHERE id = ?", [line.id])


def bill(store: Store, ticket_id: int, at: str) -> None:
    """The lines that were not billed before are, inside a write. at: UTC text."""
    store.db.execute(
        "UPDATE price_lines SET billed_at = ? WHERE ticket_id = ? AND billed_at IS NULL",
        [at, ticket_id],
    )


def pay(
    store: Store,
    act: Act,
    ticket_id: int,
    kind: str,
    amount_minor: int,
    note: str = "",
    **how: object,
) -> int:
    """Adds a payment, inside a write. kind: deposit, payment, refund or correction.

    how: method ("cash", "card", "transfer", "other"), tip_minor.
    """
    row = {
        "ticket_id": ticket_id,
        "at": utc_text(act.at),
        "kind": kind,
        "amount_minor": amount_minor,
    }
    return store.insert("payments", **row, staff_id=act.staff_id, note=note, **how)
