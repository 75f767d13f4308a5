"""The tables of a shop as the file of an export holds them."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from fitcounter.store import every_table
from fitcounter.store.database import Store
from fitcounter.store.integrity import ContentHash


def as_tables(told: Mapping[str, Mapping[str, Any]]) -> list[every_table.Table]:
    """The same as they are read from such a file."""
    return [
        every_table.Table(name, one["columns"], iter(one["rows"])) for name, one in told.items()
    ]


def taken_out(store: Store) -> dict[str, dict[str, Any]]:
    """Table → its columns and its rows as lists."""
    return {
        table.name: {"columns": table.columns, "rows": [list(row) for row in table.rows]}
        for table in every_table.take_out(store, ContentHash(store))
    }
