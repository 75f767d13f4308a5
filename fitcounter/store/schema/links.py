"""Short codes that lead from paper to a customer's page, and links that only show it."""

from __future__ import annotations

LINK_CODES = (
    "ALTER TABLE tickets ADD COLUMN link_code_hash TEXT",
    "CREATE UNIQUE INDEX tickets_link_code ON tickets(link_code_hash)",
)

# share_series: which of the links to look at, from 1; its hash is there while it is open.
SHARED_LINKS = (
    "ALTER TABLE tickets ADD COLUMN share_hash TEXT",
    "ALTER TABLE tickets ADD COLUMN share_series INTEGER NOT NULL DEFAULT 0",
    "CREATE UNIQUE INDEX tickets_share ON tickets(share_hash)",
)

RELINKED = ("CREATE INDEX tickets_relinked ON tickets(id) WHERE link_series > 1",)
