"""The shop's own choices, a JSON value under each key; those of one leather stand together under
its own key.
"""

from __future__ import annotations

import json
from typing import Any

from fitcounter.store.database import Store

LEATHER = "leather:"
_OF_LEATHERS = (  # a range of the key, so that nothing else is read
    "key >= 'leather:' AND key < 'leather;'"
)

# A part of a statement: goes up with everything that is set.
STAMP = "(SELECT coalesce(sum(version), 0) FROM settings)"


def as_kept(store: Store) -> tuple[tuple[str, str], ...]:
    """The key of everything that is set, and its value as JSON text."""
    return tuple(store.db.conn.execute("SELECT key, value FROM settings"))


def everything(store: Store) -> dict[str, Any]:
    return {key: json.loads(value) for key, value in as_kept(store)}


def stamp(store: Store) -> int:
    """Goes up with every value that is set, so that it shows whether anything was set meanwhile.

    Each leather has a version of its own.
    """
    return int(
        store.value(f"SELECT coalesce(sum(version), 0) FROM settings WHERE NOT ({_OF_LEATHERS})")
    )


def of_leathers(store: Store) -> tuple[tuple[str, str], ...]:
    """(code, its figures as JSON text) of every leather that was ever set, in order of code."""
    rows = store.rows(f"SELECT key, value FROM settings WHERE {_OF_LEATHERS} ORDER BY key")
    return tuple((row["key"].removeprefix(LEATHER), row["value"]) for row in rows)


def leathers_stamp(store: Store) -> int:
    """Goes up with every figure of a leather that is set."""
    return int(store.value(f"SELECT coalesce(sum(version), 0) FROM settings WHERE {_OF_LEATHERS}"))


def stamp_with_leathers(store: Store) -> int:
    """Goes up with everything that is set."""
    return int(store.value(f"SELECT {STAMP}"))


def leather_version(store: Store, code: str) -> int:
    """0 where this leather was never set."""
    return int(store.value("SELECT version FROM settings WHERE key = ?", LEATHER + code) or 0)


def put(store: Store, key: str, value: object) -> None:
    """Sets one value, inside a write."""
    store.db.execute(
        "INSERT INTO settings (key, value) VALUES (?, ?) ON CONFLICT (key) DO UPDATE SET value ="
        " excluded.value, version = version + 1",
        [key, json.dumps(value, ensure_ascii=False, sort_keys=True)],
    )


def get(store: Store, key: str) -> Any:
    """One value, None where it was never set."""
    held = store.value("SELECT value FROM settings WHERE key = ?", key)
    return None if held is None else json.loads(held)
