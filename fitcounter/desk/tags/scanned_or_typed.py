"""What a tag's text means, typed, scanned or opened as an address: the only reader of it.

A retired tag is never taken for the thing it once was tied to: it may have hung on another
customer's. What took its place is said instead.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from typing import NamedTuple

from fitcounter.desk.common import item_words
from fitcounter.desk.common.translation import marked, say
from fitcounter.errors import BadInput, FitCounterError, NotFound, RetiredTag
from fitcounter.fit import item_states
from fitcounter.fit.tagcode import BODY, read_code, show_code
from fitcounter.store import bench_board, search, tags, trees
from fitcounter.store.bench_board import BoardRow
from fitcounter.store.bench_records import TreeRow
from fitcounter.store.database import Store
from fitcounter.store.records import Tag

_NUMBER = re.compile(r"([0-9]{1,4})\s*(l|left|r|right)?", re.IGNORECASE)
_SIDES = {"l": "left", "r": "right"}
A_TREE = marked("That tag is on a tree. Scan the tag of the boot.")
LEAST_OF_A_NAME = 2
_WAITS_FOR_TREE = ("queued", "prepared", "to-decide")


@dataclass(frozen=True, slots=True, kw_only=True)
class TagTarget:
    """What a tag's code leads to: an item, a tree, or (both None) nothing yet.

    code: as shown. retired: the tag itself opens nothing any more; item_id and tree_id then are
    what it really hung on, and goes_to is the code of the tag there now, "" where there is none.
    """

    code: str
    number: int | None
    side: str | None
    item_id: int | None
    tree_id: int | None
    retired: bool
    goes_to: str = ""


class ScanResult(NamedTuple):
    """What a scan at the bench means. boot: the item scanned, or kept from the scan before. tree:
    the tree scanned. which: items of one number, to pick from. sentence: why nothing was scanned.
    """

    boot: BoardRow | None = None
    tree: TreeRow | None = None
    which: tuple[BoardRow, ...] = ()
    sentence: str = ""

    @property
    def put_on(self) -> bool:
        """A boot that waits for a tree, and a tree."""
        return (
            self.boot is not None and self.tree is not None and self.boot.state in _WAITS_FOR_TREE
        )


def tag_of(store: Store, typed: str) -> Tag:
    """The tag with a code, living or retired. typed: nine characters or a whole address.

    Raises BadInput (misread) and NotFound (not a tag of this shop).
    """
    return tags.by_code(store, read_code(typed))


def living_tag(store: Store, typed: str) -> Tag:
    """The same, for everything but looking at a tag. Raises also RetiredTag."""
    tag = tag_of(store, typed)
    if tag.died_at is not None:
        raise RetiredTag(
            say("That tag is retired. Scan it with the camera to see the new tag."),
            typed=typed,
            field="code",
            code=show_code(tag.code),
        )
    return tag


def tagged_item(store: Store, typed: str) -> int:
    """The id of the item that a living tag is tied to.

    Raises BadInput (misread, or a tree's tag), NotFound (not of this shop, or tied to nothing) and
    RetiredTag.
    """
    tag = living_tag(store, typed)
    if tag.tree_id is not None:
        raise BadInput(say(A_TREE), typed=typed, field="code")
    return _item_id(tag)


def target_of(store: Store, typed: str) -> TagTarget:
    """What stands behind an opened tag, a retired one too. Raises BadInput and NotFound."""
    tag = tag_of(store, typed)
    last = _last_in_its_place(store, tag)
    replaced = last.id != tag.id and last.died_at is None
    return TagTarget(
        code=show_code(tag.code),
        number=tag.number,
        side=tag.side,
        item_id=last.item_id,
        tree_id=last.tree_id,
        retired=tag.died_at is not None,
        goes_to=show_code(last.code) if replaced else "",
    )


def spoken_number(typed: str) -> tuple[int, str | None] | None:
    """A number as it is said with its side: "41 L" is (41, "left"), "41" is (41, None).

    None for every other text.
    """
    match = _NUMBER.fullmatch(typed.strip())
    if match is None:
        return None
    return int(match[1]), _SIDES.get((match[2] or "")[:1].lower())


def scan(store: Store, typed: str, boot_id: int | None = None) -> ScanResult:
    """What was scanned or typed at the bench: a tag, a number with its side, a tree's label.

    typed: empty while nothing was scanned yet. boot_id: the boot scanned before, which may wait
    for its tree. Never raises for what was typed: the result's sentence says it.
    """
    kept = bench_board.one(store, boot_id) if boot_id else None
    if not typed.strip():
        return ScanResult(kept)
    try:
        return _scan(store, typed.strip(), kept)
    except FitCounterError as error:
        return ScanResult(kept, sentence=error.sentence)


def scanned_boot(store: Store, typed: str) -> BoardRow:
    """The one item meant.

    Raises BadInput where it is a tree, nothing, a retired tag, or could be either of a pair.
    """
    result = scan(store, typed)
    if result.sentence:
        raise BadInput(result.sentence, typed=typed)
    if result.which:
        raise BadInput(say("Left or right? Type the number with L or R."), typed=typed)
    if result.boot is None:
        raise BadInput(say(A_TREE), typed=typed)
    return result.boot


def not_on_a_tree(boot: BoardRow) -> BadInput:
    """The error for a scan of many that would take off what is down as elsewhere."""
    words = say(
        "{item} is not on a tree ({state}). Look at the tag. If the boot was on a tree, open its"
        " page.",
        item=item_words.named(boot.side, boot.kind, boot.number),
        state=item_words.state_word(boot.state),
    )
    return BadInput(words, field="scan")


def comes_off_later(boot: BoardRow, day: str) -> BadInput:
    """The error for a scan of many that would take off a boot whose hold runs until a later day."""
    name = item_words.named(boot.side, boot.kind, boot.number)
    words = say("{item} comes off {day}. To take it off early, open its page.", item=name, day=day)
    return BadInput(words, field="scan")


def _scan(store: Store, typed: str, kept: BoardRow | None) -> ScanResult:
    tree = _labelled(store, typed)
    if kept is not None and tree is not None:
        return ScanResult(kept, tree)
    number = spoken_number(typed)
    boots = _numbered(store, *number) if number else []
    if boots:
        return ScanResult(boots[0]) if len(boots) == 1 else ScanResult(which=tuple(boots))
    if tree is not None:
        return ScanResult(kept, tree)
    named = _named(store, typed)
    if named:
        return ScanResult(named[0]) if len(named) == 1 else ScanResult(which=tuple(named))
    if number is not None:
        raise BadInput(
            say("No open ticket has number {number}. Look at the tag again.", number=number[0])
        )
    if len(typed) < BODY:  # too short for a code: it was meant as a number or a tree
        raise BadInput(
            say(
                "Nothing has that name. Type a number like 41 L, a customer’s name, a tree’s"
                " label, or the nine letters and numbers on the tag."
            )
        )
    return _tagged(store, typed, kept)


def _tagged(store: Store, typed: str, kept: BoardRow | None) -> ScanResult:
    tag = living_tag(store, typed)
    if tag.tree_id is not None:
        return ScanResult(kept, trees.get(store, tag.tree_id))
    return ScanResult(bench_board.one(store, _item_id(tag)))


def _item_id(tag: Tag) -> int:
    if tag.item_id is None:
        raise NotFound(say("That tag is not on any item yet."), field="code")
    return tag.item_id


def _labelled(store: Store, typed: str) -> TreeRow | None:
    return trees.by_label(store, re.sub(r"^tree\s+", "", typed, flags=re.IGNORECASE))


def _numbered(store: Store, number: int, side: str | None) -> list[BoardRow]:
    """Open items with a spoken number, of its ticket or its own tag."""
    return [
        row
        for row in bench_board.numbered(store, number)
        if side in (None, row.side) and row.state not in item_states.GONE
    ]


def _named(store: Store, typed: str) -> list[BoardRow]:
    """What customers of that name have here, from two letters of it; none for a text with
    figures, which is a number or a code.
    """
    if len(typed) < LEAST_OF_A_NAME or any(sign.isdigit() for sign in typed):
        return []
    known = {one.id for one in search.by_words(store, typed)}
    rows = bench_board.of_customers(store, known)
    return [row for row in rows if row.state not in item_states.GONE]


def _last_in_its_place(store: Store, tag: Tag) -> Tag:
    """The tag itself while it lives; else the last of those that took its place."""
    seen = {tag.id}
    while tag.died_at is not None and tag.replaced_by is not None and tag.replaced_by not in seen:
        seen.add(tag.replaced_by)
        tag = tags.get(store, tag.replaced_by)
    return tag
