"""The shop's own choices, a JSON value under each key."""

from __future__ import annotations

import json
from typing import Any

from fitcounter.store.database import Store


def everything(store: Store) -> dict[str, Any]:
    return {row["key"]: json.loads(row["value"]) for row in store.rows("SELECT key, value FROM settings")}


def stamp(store: Store) -> int:
    """Goes up with every value that is set, so that it shows whether anything was set meanwhile."""
    return int(store.value("SELECT coalesce(sum(version), 0) FROM settings"))


def put(store: Store, key: str, value: object) -> None:
    """Sets one value, inside a write."""
    store.db.execute(
        "INSERT INTO settings (key, value) VALUES (?, ?) ON CONFLICT (key) DO UPDATE SET value = excluded.value, version = version + 1",
        [key, json.dumps(value, ensure_ascii=False, sort_keys=True)],
    )
