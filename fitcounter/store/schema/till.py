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
