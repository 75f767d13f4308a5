"""What was scanned or typed at the bench: a tag's address or code, a spoken number with its side, a
tree's label.
"""

from __future__ import annotations

import re
from dataclasses import dataclass

from fitcounter.errors import BadInput, FitCounterError
from fitcounter.fit import item_states
from fitcounter.fit.tagcode import BODY, read_code
from fitcounter.store import bench_board, tags, trees
from fitcounter.store.bench_board import BoardRow
from fitcounter.store.bench_records import TreeRow
from fitcounter.store.database import Store

_NUMBER = re.compile(r"(\d{1,4})\s*(l|left|r|right)?", re.IGNORECASE)
_SIDES = {"l": "left", "r": "right"}


@dataclass(frozen=True, slots=True)
class Heard:
    """boot: the item scanned, or held from the scan before. tree: the tree scanned. which: items of
    one number, to pick from.

    put_on: boot and tree are both there. sentence: what was not understood.
    """

    boot: BoardRow | None = None
    tree: TreeRow | None = None
    which: tuple[BoardRow, ...] = ()
    sentence: str = ""

    @property
    def put_on(self) -> bool:
        """A boot that waits for a tree, and a tree."""
        return (
            self.boot is not None
            and self.tree is not None
            and self.boot.state in ("queued", "prepared", "to-decide")
        )


def hear(store: Store, typed: str, boot_id: int | None = None) -> Heard:
    """typed: empty while nothing was scanned yet.

    boot_id: the boot that is held and may wait for its tree.
    """
    held = bench_board.one(store, boot_id) if boot_id else None
    if not typed.strip():
        return Heard(held)
    try:
        return _heard(store, typed.strip(), held)
    except FitCounterError as error:
        return Heard(held, sentence=error.sentence)


def _heard(store: Store, typed: str, held: BoardRow | None) -> Heard:
    tree = _tree(store, typed) if held is not None else None
    if tree is not None:
        return Heard(held, tree)
    number = _NUMBER.fullmatch(typed)
    if number is not None:
        found = _numbered(store, int(number[1]), _SIDES.get((number[2] or "")[:1].lower()))
        if found:
            return Heard(found[0]) if len(found) == 1 else Heard(which=tuple(found))
    tree = _tree(store, typed)
    if tree is not None:
        return Heard(held, tree)
    if number is not None:
        raise BadInput(f"Nothing open has the number {number[1]}. Look at the tag again.")
    if not _like_a_code(typed):
        raise BadInput(
            "Nothing here is called that. Type a number with L or R, like 41 L, a tree’s label, or"
            " the nine signs on a tag."
        )
    return _tagged(store, typed, held)


def _like_a_code(typed: str) -> bool:
    """Long enough for a tag's code or its address; what is shorter was meant as a number or a
    tree.
    """
    return len(typed) >= BODY


def _tagged(store: Store, typed: str, held: BoardRow | None) -> Heard:
    tag = tags.by_code(store, read_code(typed))
    if tag.died_at is not None:
        raise BadInput("That tag is dead. Open its address to see what took its place.")
    if tag.tree_id is not None:
        return Heard(held, trees.get(store, tag.tree_id))
    if tag.item_id is None:
        raise BadInput("Nothing is tied to that tag yet.")
    return Heard(bench_board.one(store, tag.item_id))


def _tree(store: Store, typed: str) -> TreeRow | None:
    return trees.by_label(store, re.sub(r"^tree\s+", "", typed, flags=re.IGNORECASE))


def _numbered(store: Store, number: int, side: str | None) -> list[BoardRow]:
    """Open items with a spoken number, of its ticket or its own tag."""
    return [
        one
        for one in bench_board.numbered(store, number)
        if side in (None, one.side) and one.state not in item_states.GONE
    ]


def not_on_a_tree(boot: BoardRow) -> BadInput:
    """The sentence for a scan of many that would take off what is down as elsewhere."""
    named = f"{boot.side or boot.kind} {boot.number}".capitalize()
    words = (
        f"{named} is down as {item_states.WORDS[boot.state]}. Look at the tag; if it was on a tree,"
        " open its page to say so."
    )
    return BadInput(words, field="scan")


def boot_of(store: Store, typed: str) -> BoardRow:
    """The one boot meant.

    Raises BadInput where it is a tree, nothing, or could be either of a pair.
    """
    heard = hear(store, typed)
    if heard.sentence:
        raise BadInput(heard.sentence, typed=typed)
    if heard.which:
        raise BadInput("Which of the two? Type the number with L or R.", typed=typed)
    if heard.boot is None:
        raise BadInput("That is a tree. Scan the tag of the boot.", typed=typed)
    return heard.boot
