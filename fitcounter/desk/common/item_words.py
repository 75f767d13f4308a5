"""What an item, its side and its state are called, in the language spoken just now."""

from __future__ import annotations

from fitcounter.desk.common.translation import marked, say
from fitcounter.fit import item_states

# A side, or the kind of a thing that has none.
WORDS = {
    "left": marked("Left"),
    "right": marked("Right"),
    "pair": marked("Pair"),
    "boot": marked("Boot"),
    "shoe": marked("Shoe"),
    "bag": marked("Bag"),
    "belt": marked("Belt"),
    "glove": marked("Glove"),
    "other": marked("Item"),
}


def item_word(code: str) -> str:
    """ "Left", "Bag". code: a side, or the kind of a thing without one, as stored."""
    return say(WORDS[code]) if code in WORDS else code.capitalize()


def named(side: str | None, kind: str, number: int) -> str:
    """ "Left 22": the item as it is called across the bench. number: its ticket's."""
    return say("{item} {number}", item=item_word(side or kind), number=number)


def state_word(state: str) -> str:
    """ "on the tree": a state as stored, for the middle of a line. Raises KeyError."""
    return say(item_states.WORDS[state])
