"""Ranges that several tables refuse values by, as SQL."""

from __future__ import annotations

# Ranges refuse what no tape or till can mean; the finer questions are asked in fit and on the
# screen.
GIRTH = "BETWEEN 50000 AND 1300000"
SIDE = "CHECK (side IN ('left', 'right'))"
