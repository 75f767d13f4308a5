"""When each price line was billed, so that the sums of a past day stay what they were."""

from __future__ import annotations

# A line is billed when its ticket is picked up or closed; one that is added later, on its own day.
BILLED = (
    "ALTER TABLE price_lines ADD COLUMN billed_at TEXT",
    "UPDATE price_lines SET billed_at = (SELECT handed_over_at FROM tickets WHERE tickets.id ="
    " price_lines.ticket_id)",
    "CREATE INDEX price_lines_billed ON price_lines(billed_at) WHERE billed_at IS NOT NULL",
)
# What the owner's figures ask of tables that grow with the years.
FIGURES = (
    "CREATE INDEX tickets_opened ON tickets(opened_at)",
    "CREATE INDEX rounds_begun ON rounds(on_at) WHERE on_at IS NOT NULL",
)
