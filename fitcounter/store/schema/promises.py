"""Promised days that moved, beside the call in which the customer was told; what an item on hold
waits for; rush jobs.
"""

from __future__ import annotations

PROMISES = (
    "ALTER TABLE calls ADD COLUMN moved_from TEXT",
    "ALTER TABLE calls ADD COLUMN moved_to TEXT",
)
# In words: which question, which part, sent where.
ON_HOLD = "ALTER TABLE items ADD COLUMN waits_what TEXT NOT NULL DEFAULT ''"
RUSH = "ALTER TABLE tickets ADD COLUMN rush INTEGER NOT NULL DEFAULT 0 CHECK (rush IN (0, 1))"
