"""The pair that goes the whole way of a life."""

from __future__ import annotations

from system.life import Life


def pair(life: Life) -> tuple[int, int, int, int]:
    """Ticket, fit, left and right of the pair that goes the whole way."""
    fit_id = life.value(
        "SELECT max(f.id) FROM fits f JOIN tickets t ON t.id = f.ticket_id JOIN customers c ON c.id"
        " = t.customer_id WHERE c.phone_typed LIKE '%0187'"
    )
    sides = (
        life.value("SELECT id FROM items WHERE fit_id = ? AND side = ?", fit_id, side)
        for side in ("left", "right")
    )
    return life.value("SELECT ticket_id FROM fits WHERE id = ?", fit_id), fit_id, *sides
