"""A tag that is lost or torn, two that hung on the wrong things, and one that is retired: the old
code stops working and says where it went.
"""

from __future__ import annotations

from typing import NamedTuple

from fitcounter.desk.common.translation import say
from fitcounter.desk.tags.scanned_or_typed import living_tag, tag_of
from fitcounter.desk.tickets.page import name_of
from fitcounter.errors import BadInput, Conflict, OutOfOrder
from fitcounter.fit.tagcode import show_code
from fitcounter.store import customers, items, tags, tickets
from fitcounter.store.database import Act, Store, Written
from fitcounter.store.records import Item, Tag


class Tagged(NamedTuple):
    """A thing with its tag: name ("Left boot"), number, whose, and the code as shown, "" while it
    has none.
    """

    item: Item
    name: str
    number: int
    whose: str
    code: str


def look(store: Store, item_id: int) -> Tagged:
    """Raises NotFound."""
    item = items.get(store, item_id)
    ticket = tickets.get(store, item.ticket_id)
    tag = tags.of_item(store, item_id)
    whose = customers.get(store, ticket.customer_id).name
    return Tagged(item, name_of(item), ticket.number, whose, show_code(tag.code) if tag else "")


def partner(store: Store, item: Item) -> Tagged | None:
    """The other boot of the pair, where it has a tag: what a tag is most often swapped with."""
    if item.fit_id is None:
        return None
    for one in items.of_ticket(store, item.ticket_id):
        if one.fit_id == item.fit_id and one.id != item.id and tags.of_item(store, one.id):
            return look(store, one.id)
    return None


def other(store: Store, item: Item, typed: str) -> Tagged:
    """The thing behind a scanned or typed code, to be exchanged with this one.

    Raises BadInput, NotFound, RetiredTag.
    """
    tag = living_tag(store, typed)
    if tag.item_id is None:
        raise BadInput(
            say("This tag is on nothing. Scan the tag on the other item."),
            typed=typed,
            field="code",
        )
    if tag.item_id == item.id:
        words = say(
            "That is the tag of {item}. Scan the tag on the other item.", item=name_of(item)
        )
        raise BadInput(words, typed=typed, field="code")
    return look(store, tag.item_id)


def new_tag(store: Store, act: Act, item_id: int) -> Written:
    """Another tag for a thing; the code of the one before opens nothing from now on."""

    def write() -> Written:
        item = items.get(store, item_id)
        old = tags.of_item(store, item_id)
        number = tickets.get(store, item.ticket_id).number
        fresh_id = (
            tags.replace(store, act, old.id)
            if old
            else tags.make(store, act, number, item.side, item_id)
        )
        codes = {"old": old.code if old else "", "new": tags.get(store, fresh_id).code}
        words = say(
            "{item} {number} has a new tag. Print it, hang it on, and throw the old one away.",
            item=name_of(item),
            number=number,
        )
        return Written(item.ticket_id, item_id, words=words, detail=codes)

    return store.once(act, "tag-replaced", write)


def swap(store: Store, act: Act, item_id: int, other_id: int) -> Written:
    """Two tags hung on each other's things: both get new ones.

    Raises OutOfOrder where one has no tag.
    """
    if item_id == other_id:
        raise Conflict(say("That is the same item twice. Scan the tag on the other item."))

    def write() -> Written:
        here, there = items.get(store, item_id), items.get(store, other_id)
        first, second = _living(store, here), _living(store, there)
        fresh = [
            tags.get(store, tag_id).code for tag_id in tags.swap(store, act, first.id, second.id)
        ]
        codes = {"items": [here.id, there.id], "old": [first.code, second.code], "new": fresh}
        words = say(
            "New tags for {first} and {second}. Print both, hang them on, and throw the old ones"
            " away.",
            first=name_of(here),
            second=name_of(there),
        )
        return Written(here.ticket_id, item_id, words=words, detail=codes)

    return store.once(act, "tags-swapped", write)


def retire(store: Store, act: Act, code: str) -> Written:
    """A tag that hangs on nothing opens nothing any more: spoiled in printing, or gone.

    Raises BadInput, NotFound, Conflict.
    """

    def write() -> Written:
        tag = tag_of(store, code)
        if tag.item_id is not None or tag.tree_id is not None:
            raise Conflict(say("This tag is in use now. Give that item a new tag instead."))
        if tag.died_at is None:
            tags.retire(store, act, tag.id)
        words = say("Tag {code} is retired. Throw it away.", code=show_code(tag.code))
        return Written(words=words, detail={"code": tag.code})

    return store.once(act, "tag-struck", write)


def _living(store: Store, item: Item) -> Tag:
    tag = tags.of_item(store, item.id)
    if tag is None:
        raise OutOfOrder(say("{item} has no tag. Give it a tag first.", item=name_of(item)))
    return tag
