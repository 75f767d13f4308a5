"""A calendar for one boot alone, and what was worn by the calendars of a ticket before this one."""

from __future__ import annotations

ONE_BOOT = (
    "ALTER TABLE wear_plans ADD COLUMN boots TEXT NOT NULL DEFAULT ''",
    "CREATE TABLE earlier_wears (id INTEGER PRIMARY KEY,"
    " plan_id INTEGER NOT NULL REFERENCES wear_plans(id), picked_up_at TEXT NOT NULL,"
    " n INTEGER NOT NULL, minutes INTEGER NOT NULL, local_day TEXT NOT NULL,"
    " actual_start_at TEXT, actual_minutes INTEGER) STRICT",
    "CREATE INDEX earlier_wears_plan ON earlier_wears(plan_id)",
)

# What a change of the customer's took the place of, so that it can be undone while nothing else
# came after it.
WEAR_UNDO = ("ALTER TABLE wear_plans ADD COLUMN before TEXT NOT NULL DEFAULT ''",)

# How each boot felt after a wear, in one tap.
FEELINGS = (
    "CREATE TABLE wear_feelings (id INTEGER PRIMARY KEY,"
    " ticket_id INTEGER NOT NULL REFERENCES tickets(id), n INTEGER NOT NULL,"
    " local_day TEXT NOT NULL, side TEXT NOT NULL CHECK (side IN ('left', 'right')),"
    " feel TEXT NOT NULL CHECK (feel IN ('good', 'tight', 'sore')), at TEXT NOT NULL,"
    " UNIQUE (ticket_id, local_day, side)) STRICT",
)
