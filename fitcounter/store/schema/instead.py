"""What is done in place of stretching."""

from __future__ import annotations

# "", panel, elastic-gusset or zip-gusset: chosen at the counter, the boots' work once agreed.
INSTEAD = ("ALTER TABLE fits ADD COLUMN instead TEXT NOT NULL DEFAULT ''",)
