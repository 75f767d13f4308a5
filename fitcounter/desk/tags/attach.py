"""A tag on every item: a new one to be printed, or one of those that hang ready, printed on a quiet
evening.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from fitcounter.desk.tags.resolve import spoken_number, tag_of
from fitcounter.errors import BadInput, FitCounterError
from fitcounter.store import tags, tickets
from fitcounter.store.database import Act, Store
from fitcounter.store.records import Item, Tag, Ticket


def tag_items(
    store: Store, act: Act, ticket: Ticket, here: Sequence[Item], codes: Mapping[int, str]
) -> int:
    """Ties a tag on each item that has none, inside a write; returns the number to be spoken.

    codes: item id to the scanned or typed code of a tag that hangs ready, or its number; the number
    printed on those becomes the ticket's. The two tags of a pair may come in either order. Raises
    BadInput or NotFound at tag_<item id> for a tag that cannot be this item's.
    """
    ready = {
        item.id: _ready(store, item, codes[item.id].strip())
        for item in here
        if codes.get(item.id, "").strip()
    }
    _uncross(here, ready)
    numbers = {tag.number for tag in ready.values() if tag.number is not None}
    if len(numbers) > 1:
        raise BadInput(
            "These tags have different numbers. Take tags of one number.",
            field=f"tag_{next(iter(ready))}",
        )
    number = next(iter(numbers), ticket.number)
    other = tickets.open_by_number(store, number)
    if other is not None and other.id != ticket.id:
        raise BadInput(
            f"Number {number} is on another open ticket. Take tags of another number.",
            field=f"tag_{next(iter(ready))}",
        )
    for item in here:
        if item.id in ready:
            _fits(item, ready[item.id])
            tags.bind(store, act, ready[item.id].id, item.id)
        elif tags.of_item(store, item.id) is None:
            tags.make(store, act, number, item.side, item.id)
    if len({tag.id for tag in ready.values()}) < len(ready):
        raise BadInput(
            "That is the same tag twice. Each thing has its own.", field=f"tag_{list(ready)[-1]}"
        )
    return number


def any_ready(store: Store) -> bool:
    """Whether the shop has tags that hang ready, printed on a quiet evening."""
    return bool(tags.free(store))


def _ready(store: Store, item: Item, typed: str) -> Tag:
    where = f"tag_{item.id}"
    if spoken := spoken_number(typed):
        number = spoken[0]
        for tag in tags.free(store):
            if (tag.number, tag.side) == (number, item.side):
                return tag
        which = f" for the {item.side} boot" if item.side else ""
        sentence = (
            f"No tag {number}{which} hangs ready. Scan one that does, or leave this empty for a new"
            " tag."
        )
        raise BadInput(sentence, typed=typed, field=where)
    try:
        return tag_of(store, typed)
    except FitCounterError as error:
        error.field = where
        raise


def _uncross(here: Sequence[Item], ready: dict[int, Tag]) -> None:
    """Left and right of one pair, scanned in the other order, change places."""
    sides = {(one.letter, one.side): one.id for one in here if one.id in ready}
    for (letter, side), left in list(sides.items()):
        right = sides.get((letter, "right"))
        if side == "left" and right and (ready[left].side, ready[right].side) == ("right", "left"):
            ready[left], ready[right] = ready[right], ready[left]


def _fits(item: Item, tag: Tag) -> None:
    where = f"tag_{item.id}"
    if tag.died_at or tag.item_id or tag.tree_id:
        raise BadInput(
            "That tag hangs on something else, or is struck off. Take another.", field=where
        )
    if tag.side and item.side and tag.side != item.side:
        raise BadInput(
            f"That tag is for a {tag.side} boot, and this is the {item.side} one. Take the other of"
            " the two.",
            field=where,
        )
