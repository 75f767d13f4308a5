"""The tables of a shop as the file of an export holds them."""

from __future__ import annotations

from typing import Any

from fitcounter.store import export
from fitcounter.store.database import Store
from fitcounter.store.integrity import ContentHash


def taken_out(store: Store) -> dict[str, dict[str, Any]]:
    """Table → its columns and its rows as lists."""
    return {
        table.name: {"columns": table.columns, "rows": [list(row) for row in table.rows]}
        for table in export.take_out(store, ContentHash(store))
    }
