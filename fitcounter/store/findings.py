"""What we saw on an item, with the place and the moment."""

from __future__ import annotations

from fitcounter.store.database import Act, Store, utc_text
from fitcounter.store.records import Finding


def of_item(store: Store, item_id: int) -> list[Finding]:
    """Oldest first."""
    return store.all(Finding, "SELECT * FROM findings WHERE item_id = ? ORDER BY id", item_id)


def add(
    store: Store, act: Act, item_id: int, word: str, moment: str = "before", round_n: int | None = None, place: str = "", note: str = ""
) -> int:
    """Adds one, inside a write. moment: before, round (with round_n) or after."""
    row = {"item_id": item_id, "moment": moment, "round_n": round_n, "word": word, "place": place, "note": note}
    return store.insert("findings", **row, seen_at=utc_text(act.at), staff_id=act.staff_id)
