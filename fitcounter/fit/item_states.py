"""An item's states and what may follow them: one table for the bench, the counter and the database.

The shop is never at fault for being ahead of the program. A step that does not follow is not
refused: `missing` names what was skipped, so that it can be kept as *not recorded* and the step be
saved. Only handing out what is handed out is refused.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

# Along the way of a boot that is stretched, in order.
WAY = (
    "expected",
    "counter",
    "queued",
    "prepared",
    "on-tree",
    "resting",
    "to-decide",
    "finishing",
    "finished",
    "shelved",
    "out",
    "closed",
)
# Other work rides on the same ticket with five plain states.
OTHER_WAY = ("queued", "working", "shelved", "out", "closed")
_WAYS = {"stretch": WAY, "other": OTHER_WAY}
# Beside the way: it waits for somebody, the shop stopped, or it goes back as it came.
ASIDE = ("waiting", "stopped", "declined")

WORDS = {
    "expected": "still at home",
    "counter": "at the counter, not agreed yet",
    "queued": "waiting for the bench",
    "working": "on the bench",
    "prepared": "prepared, waits for a tree",
    "on-tree": "on the tree",
    "resting": "resting, to be measured again",
    "to-decide": "measured again, to be decided",
    "finishing": "being finished",
    "finished": "finished, needs a shelf",
    "shelved": "ready on the shelf",
    "out": "handed over",
    "closed": "guarantee over",
    "waiting": "waiting",
    "stopped": "stopped: something went wrong",
    "declined": "goes back as it came",
}
# The same in a line where one thing or several may stand before it.
WORDS_OF_SEVERAL = {
    **WORDS,
    "prepared": "prepared, next on a tree",
    "finished": "finished, to be shelved",
    "declined": "not done, to go back",
}


@dataclass(frozen=True, slots=True)
class Step:
    """A step: where it may start, where it leads (empty: stays), and the words on its button."""

    name: str
    starts: tuple[str, ...]
    leads_to: str
    words: str


_BENCH = ("queued", "prepared", "on-tree", "resting", "to-decide", "finishing", "finished")
_OPEN = ("expected", "counter", *_BENCH, "working", "shelved", "waiting", "stopped", "declined")

STEPS = {
    step.name: step
    for step in (
        Step("arrive", ("expected",), "counter", "It is here now"),
        Step("agree", ("expected", "counter"), "queued", "Agreed, to the bench"),
        Step("prepare", ("queued", "to-decide"), "prepared", "Prepared"),
        Step("put-on", ("queued", "prepared", "to-decide"), "on-tree", "Put on a tree"),
        Step("turn-up", ("on-tree",), "", "Turn up"),
        Step("leave-on", ("on-tree",), "", "Leave it on"),
        Step("take-off", ("on-tree",), "resting", "Take off the tree"),
        Step("measure-again", ("resting", "to-decide"), "to-decide", "Measure again"),
        Step("early-reading", ("resting",), "", "Measured too early"),
        Step("another-round", ("to-decide",), "queued", "Another go on the tree"),
        Step("done", ("counter", "queued", "to-decide"), "finishing", "Done stretching, finish it"),
        Step("finish", ("to-decide", "finishing"), "finished", "Finished"),
        Step("start-work", ("queued",), "working", "Start the work"),
        Step("work-done", ("queued", "working"), "shelved", "Done, on the shelf"),
        Step("shelve", ("finishing", "finished", "declined", "shelved"), "shelved", "On the shelf"),
        Step("try-on", ("shelved",), "", "Tried on"),
        Step("back-on-tree", ("shelved",), "queued", "Back on the tree"),
        Step("hand-over", ("shelved", "declined", "finished"), "out", "Handed over"),
        Step("come-back", ("out",), "queued", "Back for another look"),
        Step("close", ("out",), "closed", "Guarantee over"),
        Step("wait", (*_BENCH, "counter", "working"), "waiting", "Wait for somebody"),
        Step("go-on", ("waiting", "stopped"), "", "Go on"),
        Step("stop", (*_BENCH, "working", "shelved", "waiting"), "stopped", "Something went wrong"),
        Step("decline", _OPEN, "declined", "Goes back as it came"),
    )
}

# The one next step that the item's page shows as its large button.
_NEXT = {
    "expected": "arrive",
    "counter": "agree",
    "queued": "prepare",
    "prepared": "put-on",
    "on-tree": "take-off",
    "resting": "measure-again",
    "to-decide": "another-round",
    "finishing": "finish",
    "finished": "shelve",
    "shelved": "hand-over",
    "out": "come-back",
    "waiting": "go-on",
    "stopped": "go-on",
    "declined": "hand-over",
    "working": "work-done",
}
_NEXT_OF = {"stretch": _NEXT, "other": {**_NEXT, "queued": "start-work"}}

# What went wrong took it off its tree.
_CAME_OFF = {("stopped", "on-tree"): "resting"}

READY = ("shelved", "declined")
GONE = ("out", "closed")


def next_step(state: str, work: str) -> Step | None:
    """The usual next step; None when all is over. work: 'stretch' or 'other'."""
    name = _NEXT_OF[work].get(state)
    return STEPS[name] if name else None


def may(state: str, step: str) -> bool:
    """Does the step follow from the state as it stands?"""
    return state in STEPS[step].starts


def after(state: str, step: str, state_before: str = "") -> str:
    """The state a step leads to. state_before: where a waiting or stopped item goes on."""
    if step == "go-on":
        before = state_before or "queued"
        return _CAME_OFF.get((state, before), before)
    return STEPS[step].leads_to or state


def way(work: str) -> tuple[str, ...]:
    """The states of this work, in order. work: 'stretch' or 'other'."""
    return _WAYS[work]


def missing(state: str, step: str, work: str) -> tuple[str, ...]:
    """The states that were skipped when a step is saved out of order: after `state`, up to where
    the step may start.

    Empty when the step follows, or leads backwards: then there is nothing to catch up, it is a
    correction.
    """
    along, starts = way(work), STEPS[step].starts
    if state in starts:
        return ()
    ahead = along[along.index(state) + 1 if state in along else 1 :]
    upto = next((place for place, one in enumerate(ahead) if one in starts), None)
    return () if upto is None else ahead[: upto + 1]


def further(state: str, work: str) -> tuple[str, ...]:
    """Where an item may be further along than this, in order, for the catch-up list.

    Handing over is never caught up.
    """
    along = [one for one in way(work) if one not in (*GONE, "expected")]
    here = along.index(state) if state in along else -1
    return tuple(along[here + 1 :])


def ready(states: Iterable[str]) -> bool:
    """A ticket is ready when every item on it that is still here is, and there is one."""
    here = [state for state in states if state not in GONE]
    return bool(here) and all(state in READY for state in here)
