"""Several things in a row, as the language spoken just now lists them."""

from __future__ import annotations

from collections.abc import Sequence

from fitcounter.desk.common.translation import spoken


def and_list(parts: Sequence[str]) -> str:
    """both boots, bag, and belt; botas y bolso. One thing is itself, none is ''."""
    return spoken().listed(parts)
