"""What was said before the work, an item a row, to be held against what it took."""

from __future__ import annotations

import json
from typing import Any

from fitcounter.store.database import Act, Store, utc_text


def add(
    store: Store,
    act: Act,
    item_id: int,
    side: dict[str, Any],
    hope_day: str | None,
    promise_day: str | None,
) -> int:
    """Keeps one side's answer, inside a write.

    side: as fit.assess gives it, and what goes with it.
    """
    kept = side.get("kept") or {}
    row = {
        "item_id": item_id,
        "made_at": utc_text(act.at),
        "assessment": json.dumps(side, ensure_ascii=False, sort_keys=True),
        "tier": side["tier"],
    }
    numbers = {
        "likely": side.get("likely"),
        "eight_in_ten": side.get("eight_in_ten"),
        "kept_mean": kept.get("mean"),
    }
    return store.insert("predictions", **row, **numbers, hope_day=hope_day, promise_day=promise_day)


def latest(store: Store, item_id: int) -> dict[str, Any] | None:
    """The last answer kept for an item, with the whole assessment, or None."""
    rows = store.rows(
        "SELECT * FROM predictions WHERE item_id = ? ORDER BY id DESC LIMIT 1", item_id
    )
    return {**rows[0], "assessment": json.loads(rows[0]["assessment"])} if rows else None
