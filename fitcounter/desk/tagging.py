"""A tag on every item: a new one to be printed, or one of those that hang ready, printed on a quiet evening."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from fitcounter.errors import BadInput, FitCounterError
from fitcounter.fit.tagcode import read_code
from fitcounter.store import tags, tickets
from fitcounter.store.database import Act, Store
from fitcounter.store.records import Item, Tag, Ticket


def tag_items(store: Store, act: Act, ticket: Ticket, here: Sequence[Item], codes: Mapping[int, str]) -> int:
    """Ties a tag on each item that has none, inside a write; returns the number to be spoken.

    codes: item id to the typed or scanned code of a tag that hangs ready; the number printed on those becomes the ticket's.
    Raises BadInput or NotFound at tag_<item id> for a tag that cannot be this item's.
    """
    ready = {item_id: _ready(store, item_id, typed) for item_id, typed in codes.items() if typed.strip()}
    numbers = {tag.number for tag in ready.values() if tag.number is not None}
    if len(numbers) > 1:
        raise BadInput("These tags have different numbers. Take tags of one number.", field=f"tag_{next(iter(ready))}")
    number = next(iter(numbers), ticket.number)
    other = tickets.open_by_number(store, number)
    if other is not None and other.id != ticket.id:
        raise BadInput(f"Number {number} is on another open ticket. Take tags of another number.", field=f"tag_{next(iter(ready))}")
    for item in here:
        if item.id in ready:
            _fits(item, ready[item.id])
            tags.bind(store, act, ready[item.id].id, item.id)
        elif tags.of_item(store, item.id) is None:
            tags.make(store, act, number, item.side, item.id)
    if len({tag.id for tag in ready.values()}) < len(ready):
        raise BadInput("That is the same tag twice. Each thing has its own.", field=f"tag_{list(ready)[-1]}")
    return number


def _ready(store: Store, item_id: int, typed: str) -> Tag:
    try:
        return tags.by_code(store, read_code(typed))
    except FitCounterError as error:
        error.field = f"tag_{item_id}"
        raise


def _fits(item: Item, tag: Tag) -> None:
    where = f"tag_{item.id}"
    if tag.died_at or tag.item_id or tag.tree_id:
        raise BadInput("That tag hangs on something else, or is struck off. Take another.", field=where)
    if tag.side and item.side and tag.side != item.side:
        raise BadInput(f"That tag is for a {tag.side} boot, and this is the {item.side} one. Take the other of the two.", field=where)
