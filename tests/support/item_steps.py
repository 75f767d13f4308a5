"""Steps of an item, sent from its page as somebody at the bench does."""

from __future__ import annotations

from itertools import count

from support.cast import Counter

from fitcounter.store import items
from fitcounter.store.database import Store

_count = count(1)


def step(somebody: Counter, item_id: int, name: str, **typed: object) -> int:
    """Sends a step's form from the item's page and returns the answer's code."""
    somebody.get(f"/items/{item_id}")
    answer = somebody.post(f"/items/{item_id}/{name}", submission_id=somebody_id(), **typed)
    if answer.mimetype == "text/html":
        somebody.pages.append(answer.text)
    return answer.status_code


def somebody_id() -> str:
    return f"submission-{next(_count):06}"


def state(store: Store, item_id: int) -> str:
    return items.get(store, item_id).state
