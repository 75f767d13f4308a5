"""A tag on every item: a new one to be printed, or one of those that hang ready, printed on a quiet
evening.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from fitcounter.desk.common.translation import marked, say
from fitcounter.desk.tags.scanned_or_typed import spoken_number, tag_of
from fitcounter.errors import BadInput, FitCounterError
from fitcounter.store import tags, tickets
from fitcounter.store.database import Act, Store
from fitcounter.store.records import Item, Tag, Ticket

_NOT_PRINTED = {
    "left": marked("No pre-printed tag {number} for a left boot. Leave empty for a new tag."),
    "right": marked("No pre-printed tag {number} for a right boot. Leave empty for a new tag."),
    None: marked("There is no pre-printed tag {number}. Leave empty for a new tag."),
}


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
            say("These tags have different numbers. Take tags with one number."),
            field=f"tag_{next(iter(ready))}",
        )
    number = next(iter(numbers), ticket.number)
    other = tickets.open_by_number(store, number)
    if other is not None and other.id != ticket.id:
        raise BadInput(
            say(
                "Number {number} is on another open ticket. Take tags with another number.",
                number=number,
            ),
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
            say("You scanned the same tag twice. Each item needs its own."),
            field=f"tag_{list(ready)[-1]}",
        )
    return number


def any_ready(store: Store) -> bool:
    """Whether the shop has pre-printed tags, made on a quiet evening."""
    return bool(tags.free(store))


def _ready(store: Store, item: Item, typed: str) -> Tag:
    where = f"tag_{item.id}"
    if spoken := spoken_number(typed):
        number = spoken[0]
        for tag in tags.free(store):
            if (tag.number, tag.side) == (number, item.side):
                return tag
        sentence = say(_NOT_PRINTED[item.side], number=number)
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
            say("That tag is on another item or retired. Take another tag."), field=where
        )
    if tag.side and item.side and tag.side != item.side:
        raise BadInput(
            say("That tag is for the left boot. Scan the other tag.")
            if tag.side == "left"
            else say("That tag is for the right boot. Scan the other tag."),
            field=where,
        )
