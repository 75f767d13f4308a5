"""What the third version of the numbers keeps, beside the tables as they are first made."""

from __future__ import annotations

NUMBERS = (
    # a rested reading taken more than once: rested_um is what they settle to, this is each of them
    "ALTER TABLE rounds ADD COLUMN rested_reads TEXT NOT NULL DEFAULT ''",
    # the girth before a round was read anew, not taken over from the last rested reading
    "ALTER TABLE rounds ADD COLUMN before_read INTEGER NOT NULL DEFAULT 0"
    " CHECK (before_read IN (0, 1))",
    # a boot that ends below the highest reading of its leg: its top line is its own highest
    "ALTER TABLE items ADD COLUMN ends_below INTEGER NOT NULL DEFAULT 0"
    " CHECK (ends_below IN (0, 1))",
    # how far up (down: below 0) a tree sits from where it usually does
    "ALTER TABLE rounds ADD COLUMN shift_um INTEGER NOT NULL DEFAULT 0"
    " CHECK (shift_um BETWEEN -50000 AND 50000)",
    # how far a tree may be set up or down, 0 where it may not
    "ALTER TABLE trees ADD COLUMN shift_most_um INTEGER NOT NULL DEFAULT 0"
    " CHECK (shift_most_um BETWEEN 0 AND 50000)",
)
