"""Promised days that moved, beside the call in which the customer was told; what an item on hold
waits for; rush jobs; days kept for a job that was asked about and is on no ticket yet.
"""

from __future__ import annotations

PROMISES = (
    "ALTER TABLE calls ADD COLUMN moved_from TEXT",
    "ALTER TABLE calls ADD COLUMN moved_to TEXT",
)
# In words: which question, which part, sent where.
ON_HOLD = "ALTER TABLE items ADD COLUMN waits_what TEXT NOT NULL DEFAULT ''"
RUSH = "ALTER TABLE tickets ADD COLUMN rush INTEGER NOT NULL DEFAULT 0 CHECK (rush IN (0, 1))"
PROMISED_SLOTS = (
    """CREATE TABLE promised_slots (
  id INTEGER PRIMARY KEY, name TEXT NOT NULL, leather TEXT NOT NULL, sides TEXT NOT NULL,
  needed_by TEXT, rush INTEGER NOT NULL DEFAULT 0 CHECK (rush IN (0, 1)),
  ready_day TEXT NOT NULL, kept_until TEXT NOT NULL,
  ticket_id INTEGER REFERENCES tickets(id)) STRICT""",
    "ALTER TABLE bookings ADD COLUMN slot_id INTEGER REFERENCES promised_slots(id)",
    "ALTER TABLE bookings ADD COLUMN slot_side TEXT NOT NULL DEFAULT ''",
)
