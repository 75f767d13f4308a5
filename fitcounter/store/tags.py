"""Tags: a code on a thing. A code is never used twice; a dead one says what took its place."""

from __future__ import annotations

import secrets

from fitcounter.errors import NotFound, message
from fitcounter.fit.tagcode import new_code
from fitcounter.store import tickets
from fitcounter.store.database import Act, Store, utc_text
from fitcounter.store.records import Tag


def by_code(store: Store, code: str) -> Tag:
    """code: nine characters as fit.tagcode.read_code gives them. Raises NotFound."""
    found = store.first(Tag, "SELECT * FROM tags WHERE code = ?", code)
    if found is None:
        raise NotFound(
            message("No tag of this shop has that code. Check the letters and numbers on the tag."),
            typed=code,
            field="code",
        )
    return found


def get(store: Store, tag_id: int) -> Tag:
    """Raises NotFound."""
    found = store.first(Tag, "SELECT * FROM tags WHERE id = ?", tag_id)
    if found is None:
        raise NotFound(message("No such tag."))
    return found


def by_number(store: Store, number: int, side: str | None = None) -> list[Tag]:
    """Living tags with this spoken number, on one side where it is given."""
    sql = (
        "SELECT * FROM tags WHERE number = ? AND died_at IS NULL AND (? IS NULL OR side = ?) ORDER"
        " BY id DESC"
    )
    return store.all(Tag, sql, number, side, side)


def of_item(store: Store, item_id: int) -> Tag | None:
    """The living tag of an item."""
    return store.first(
        Tag,
        "SELECT * FROM tags WHERE item_id = ? AND died_at IS NULL ORDER BY id DESC LIMIT 1",
        item_id,
    )


def of_tree(store: Store, tree_id: int) -> Tag | None:
    """The living tag of a tree."""
    return store.first(
        Tag,
        "SELECT * FROM tags WHERE tree_id = ? AND died_at IS NULL ORDER BY id DESC LIMIT 1",
        tree_id,
    )


def free(store: Store) -> list[Tag]:
    """Numbered tags that hang ready and belong to nothing yet."""
    sql = (
        "SELECT * FROM tags WHERE item_id IS NULL AND tree_id IS NULL AND died_at IS NULL ORDER BY"
        " number, side IS NULL, side, id"
    )
    return store.all(Tag, sql)


def free_number(store: Store) -> int:
    """A number for new tags: neither on an open ticket nor on a tag that hangs ready."""
    return tickets.free_number(store)


def make(
    store: Store,
    act: Act,
    number: int | None,
    side: str | None = None,
    item_id: int | None = None,
    tree_id: int | None = None,
) -> int:
    """A new tag, inside a write: bound at once to an item or a tree, else free."""
    code = new_code(secrets.token_bytes)
    while store.value("SELECT 1 FROM tags WHERE code = ?", code):
        code = new_code(secrets.token_bytes)
    at = utc_text(act.at)
    bound_at = at if item_id or tree_id else None
    return store.insert(
        "tags",
        code=code,
        number=number,
        side=side,
        item_id=item_id,
        tree_id=tree_id,
        printed_at=at,
        bound_at=bound_at,
    )


def bind(
    store: Store, act: Act, tag_id: int, item_id: int | None = None, tree_id: int | None = None
) -> None:
    """Ties a free tag to an item or a tree, inside a write."""
    store.change("tags", tag_id, item_id=item_id, tree_id=tree_id, bound_at=utc_text(act.at))


def replace(store: Store, act: Act, tag_id: int) -> int:
    """A new tag in place of a lost or torn one, inside a write; the old code dies and says where it
    went.
    """
    old = get(store, tag_id)
    retire(store, act, tag_id)
    fresh = make(store, act, old.number, old.side, old.item_id, old.tree_id)
    store.change("tags", tag_id, replaced_by=fresh)
    return fresh


def swap(store: Store, act: Act, first_id: int, second_id: int) -> tuple[int, int]:
    """New tags for two things whose tags hung on each other, inside a write.

    Each old code dies and leads to the thing it really hung on. Returns the new tags of the first
    and of the second thing.
    """
    first, second = get(store, first_id), get(store, second_id)
    for old in (first, second):
        retire(store, act, old.id)
    fresh = [
        make(store, act, old.number, old.side, old.item_id, old.tree_id) for old in (first, second)
    ]
    store.change("tags", first.id, replaced_by=fresh[1])
    store.change("tags", second.id, replaced_by=fresh[0])
    return fresh[0], fresh[1]


def retire(store: Store, act: Act, tag_id: int) -> None:
    """The code opens nothing from now on, inside a write."""
    store.change("tags", tag_id, died_at=utc_text(act.at))
