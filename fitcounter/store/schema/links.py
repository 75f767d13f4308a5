"""Short codes that lead from paper to a customer's page."""

from __future__ import annotations

LINK_CODES = (
    "ALTER TABLE tickets ADD COLUMN link_code_hash TEXT",
    "CREATE UNIQUE INDEX tickets_link_code ON tickets(link_code_hash)",
)
