"""Promised days that moved, beside the call in which the customer was told."""

from __future__ import annotations

PROMISES = (
    "ALTER TABLE calls ADD COLUMN moved_from TEXT",
    "ALTER TABLE calls ADD COLUMN moved_to TEXT",
)
