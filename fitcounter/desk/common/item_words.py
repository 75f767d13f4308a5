"""What an item, its side and its state are called, in the language spoken just now."""

from __future__ import annotations

from fitcounter.desk.common import seen_at_intake
from fitcounter.desk.common.translation import marked, say
from fitcounter.fit import item_states
from fitcounter.fit.item_names import State
from fitcounter.store.bench_board import BoardRow
from fitcounter.store.records import Item

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


# What an item on hold waits for, alone and with what exactly.
ON_HOLD = {
    "customer": (
        marked("On hold, waiting for the customer."),
        marked("On hold, waiting for the customer: {what}."),
    ),
    "part": (
        marked("On hold, waiting for a part."),
        marked("On hold, waiting for a part: {what}."),
    ),
    "sent-out": (marked("On hold, sent out."), marked("On hold, sent out: {what}.")),
}


def on_hold(item: Item | BoardRow) -> str:
    """ "On hold, waiting for a part: brass zip.": the headline of an item that waits."""
    alone, exactly = ON_HOLD.get(item.waits_for, (marked("On hold."), marked("On hold: {what}.")))
    what = item.waits_what.rstrip(".")
    return say(exactly, what=what) if what else say(alone)


def stands(item: Item | BoardRow, problem: str = "") -> str:
    """ "on hold: brass zip", "on the tree": where an item stands, for the middle of a line.

    problem: what went wrong with one that is stopped.
    """
    what = {State.WAITING: item.waits_what, State.STOPPED: problem}.get(State(item.state), "")
    if not what:
        return state_word(item.state)
    return say(
        "{state}: {what}",
        state=state_word(item.state),
        what=seen_at_intake.what_happened(what).rstrip("."),
    )


# A job that was cancelled, while it waits to be picked up.
CANCELLED = marked("cancelled, ready to pick up")
CANCELLED_HALF_DONE = marked("cancelled half done, ready to pick up")
CANCELLED_AND_GONE = marked("cancelled, with the customer")


def state_of(item: Item) -> str:
    """ "on the tree": where an item stands, for the middle of a line; nothing that was typed."""
    if item.cancelled and item.state == State.DECLINED:
        return say(CANCELLED_HALF_DONE if item.half_done else CANCELLED)
    if item.cancelled and item.state in item_states.GONE:
        return say(CANCELLED_AND_GONE)
    return state_word(item.state)


def state_word(state: str) -> str:
    """ "on the tree": a state as stored, for the middle of a line. Raises KeyError."""
    return say(item_states.WORDS[state])
