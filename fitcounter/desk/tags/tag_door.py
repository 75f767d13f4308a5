"""What stands behind a tag: an item, a tree, nothing yet; or, where the tag is dead, what took its
place.
"""

from __future__ import annotations

from dataclasses import dataclass

from fitcounter.fit.tagcode import read_code, show_code
from fitcounter.store import tags
from fitcounter.store.database import Store
from fitcounter.store.records import Tag


@dataclass(frozen=True, slots=True)
class Behind:
    """dead: the tag opens nothing any more.

    code: as shown. goes_to: the living tag's code in its place, "" where there is none.
    """

    code: str
    number: int | None
    side: str | None
    item_id: int | None
    tree_id: int | None
    dead: bool
    goes_to: str = ""


def opened(store: Store, code: str) -> Behind:
    """code: as typed or scanned. Raises BadInput (misread) and NotFound (not of this shop)."""
    found = tags.by_code(store, read_code(code))
    last = _living(store, found)
    goes_to = show_code(last.code) if last.id != found.id and last.died_at is None else ""
    return Behind(
        show_code(found.code),
        found.number,
        found.side,
        last.item_id,
        last.tree_id,
        found.died_at is not None,
        goes_to,
    )


def _living(store: Store, found: Tag) -> Tag:
    seen = {found.id}
    while (
        found.died_at is not None
        and found.replaced_by is not None
        and found.replaced_by not in seen
    ):
        seen.add(found.replaced_by)
        found = tags.get(store, found.replaced_by)
    return found
