"""Indexes for what pages ask of tables that grow with the years."""

from __future__ import annotations

STEPS_FINISH = (
    "CREATE INDEX steps_finish ON steps(id)"
    " WHERE to_state IN ('finishing', 'finished', 'shelved', 'out') OR undone_at IS NOT NULL"
)
TICKETS_HANDED_OVER = (
    "CREATE INDEX tickets_handed_over ON tickets(handed_over_at) WHERE handed_over_at IS NOT NULL"
)
ASKED_BY_PAGES = (
    "CREATE INDEX rounds_on_tree ON rounds(tree_id) WHERE on_at IS NOT NULL AND off_at IS NULL",
    "CREATE INDEX tags_of_tree ON tags(tree_id) WHERE died_at IS NULL",
    "CREATE INDEX comebacks_ticket ON comebacks(ticket_id)",
    "CREATE INDEX customers_language ON customers(language) WHERE erased_at IS NULL",
    "DROP INDEX steps_finish",  # asked for by the book's older numbers alone
)
LIVING_AND_SENT = (
    "CREATE INDEX sessions_living ON sessions(ends_at) WHERE ended_at IS NULL",
    "CREATE INDEX mails_done ON mails(state, done_at)",
)
