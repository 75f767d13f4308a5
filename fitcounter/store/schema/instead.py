"""What is done in place of stretching, and from where a photo was taken."""

from __future__ import annotations

# "", panel, elastic-gusset or zip-gusset: chosen at the counter, the boots' work once agreed.
INSTEAD = ("ALTER TABLE fits ADD COLUMN instead TEXT NOT NULL DEFAULT ''",)
# "" for no matter where, else front, outside, inside or back.
PHOTO_VIEW = ("ALTER TABLE photos ADD COLUMN view TEXT NOT NULL DEFAULT ''",)
