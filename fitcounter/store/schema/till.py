"""Prices that change after they were agreed, jobs that are cancelled, and how money was paid."""

from __future__ import annotations

PRICES = (
    "ALTER TABLE price_lines ADD COLUMN taxable INTEGER NOT NULL DEFAULT 1 CHECK (taxable IN"
    " (0, 1))",
    "ALTER TABLE price_lines ADD COLUMN why TEXT NOT NULL DEFAULT ''",
    "ALTER TABLE consents ADD COLUMN how TEXT NOT NULL DEFAULT ''",
    "ALTER TABLE consents ADD COLUMN why TEXT NOT NULL DEFAULT ''",
    "ALTER TABLE consents ADD COLUMN price TEXT NOT NULL DEFAULT ''",
    "ALTER TABLE items ADD COLUMN cancelled TEXT NOT NULL DEFAULT '' CHECK (cancelled = '' OR"
    " cancelled = 'customer' OR cancelled = 'shop')",
    "ALTER TABLE items ADD COLUMN half_done INTEGER NOT NULL DEFAULT 0",
    "ALTER TABLE items ADD COLUMN cancel_why TEXT NOT NULL DEFAULT ''",
)
PAID_BY = (
    "ALTER TABLE payments ADD COLUMN method TEXT NOT NULL DEFAULT '' CHECK (method IN ('', 'cash',"
    " 'card', 'transfer', 'other'))",
    "ALTER TABLE payments ADD COLUMN tip_minor INTEGER NOT NULL DEFAULT 0 CHECK (tip_minor BETWEEN"
    " 0 AND 100000000)",
    "CREATE INDEX payments_at ON payments(at)",
)
_LISTED = (
    "(SELECT coalesce(sum(quantity * amount_minor), 0) FROM price_lines WHERE ticket_id ="
    " tickets.id)"
)
_TAXED = (
    "(SELECT coalesce(sum(taxable * quantity * amount_minor), 0) FROM price_lines WHERE ticket_id ="
    " tickets.id)"
)
_PAID = (
    "(SELECT coalesce(sum(CASE kind WHEN 'refund' THEN -amount_minor ELSE amount_minor END), 0)"
    " FROM payments WHERE ticket_id = tickets.id)"
)
# What desk.common.money works out: half up, away from nought.
_DUE = (
    f"UPDATE tickets SET due_minor = {_LISTED} + CASE WHEN tax_included = 1 THEN 0 ELSE ({_TAXED} *"
    f" tax_basis_points + CASE WHEN {_TAXED} < 0 THEN -5000 ELSE 5000 END) / 10000 END - {_PAID}"
)


def _follows(table: str, event: str, row: str, of: str = "") -> str:
    """The balance of a ticket follows a change of its lines, its payments or its tax."""
    key = "id" if table == "tickets" else "ticket_id"
    return (
        f"CREATE TRIGGER due_{table}_{event} AFTER {event}{of} ON {table} BEGIN {_DUE} WHERE id ="
        f" {row}.{key}; END"
    )


TILL = (
    "CREATE TABLE handovers (id INTEGER PRIMARY KEY, ticket_id INTEGER NOT NULL REFERENCES"
    " tickets(id), at TEXT NOT NULL, collected_by TEXT NOT NULL DEFAULT '', items TEXT NOT NULL,"
    " staff_id INTEGER) STRICT",
    "CREATE INDEX handovers_ticket ON handovers(ticket_id)",
    "CREATE TABLE tills (id INTEGER PRIMARY KEY, at TEXT NOT NULL, staff_id INTEGER, currency TEXT"
    " NOT NULL, first_payment_id INTEGER NOT NULL, last_payment_id INTEGER NOT NULL, float_minor"
    " INTEGER NOT NULL, expected TEXT NOT NULL, counted TEXT NOT NULL, note TEXT NOT NULL DEFAULT"
    " '') STRICT",
    "ALTER TABLE tickets ADD COLUMN due_minor INTEGER NOT NULL DEFAULT 0",
    _DUE,
    "CREATE INDEX tickets_due ON tickets(due_minor) WHERE due_minor <> 0",
    *(
        _follows(table, event, "OLD" if event == "DELETE" else "NEW")
        for table in ("price_lines", "payments")
        for event in ("INSERT", "UPDATE", "DELETE")
    ),
    _follows("tickets", "INSERT", "NEW"),
    _follows("tickets", "UPDATE", "NEW", " OF tax_basis_points, tax_included"),
)
LOG_BY_TICKET = (
    "CREATE INDEX audit_ticket ON audit(ticket_id) WHERE ticket_id IS NOT NULL",
    "CREATE INDEX consents_changed ON consents(agreed_at) WHERE how <> ''",
)
