"""An item's states and what may follow them: one table for the bench, the counter and the database.

The shop is never at fault for being ahead of the program. A step that does not follow is not
refused: `missing` names what was skipped, so that it can be kept as *not recorded* and the step be
saved. Only handing out what is handed out is refused.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from fitcounter.errors import message
from fitcounter.fit.item_names import State, StepName, Work

# Along the way of a boot that is stretched, in order.
WAY = (
    State.EXPECTED,
    State.COUNTER,
    State.QUEUED,
    State.PREPARED,
    State.ON_TREE,
    State.RESTING,
    State.TO_DECIDE,
    State.FINISHING,
    State.FINISHED,
    State.SHELVED,
    State.OUT,
    State.CLOSED,
)
# Other work rides on the same ticket with five plain states.
OTHER_WAY = (State.QUEUED, State.WORKING, State.SHELVED, State.OUT, State.CLOSED)
_WAYS: Mapping[str, tuple[State, ...]] = {Work.STRETCH: WAY, Work.OTHER: OTHER_WAY}
# Beside the way: on hold, stopped by a problem, or given back undone.
ASIDE = (State.WAITING, State.STOPPED, State.DECLINED)

# Said of one thing or of several.
WORDS: Mapping[str, str] = {
    State.EXPECTED: message("still at home"),
    State.COUNTER: message("at the counter, not agreed yet"),
    State.QUEUED: message("waiting for the bench"),
    State.WORKING: message("on the bench"),
    State.PREPARED: message("prepared, next on a tree"),
    State.ON_TREE: message("on the tree"),
    State.RESTING: message("resting"),
    State.TO_DECIDE: message("to decide"),
    State.FINISHING: message("finishing"),
    State.FINISHED: message("finished, waiting for a shelf"),
    State.SHELVED: message("ready"),
    State.OUT: message("picked up"),
    State.CLOSED: message("guarantee over"),
    State.WAITING: message("on hold"),
    State.STOPPED: message("stopped by a problem"),
    State.DECLINED: message("not done, ready to pick up"),
}


@dataclass(frozen=True, slots=True)
class Step:
    """A step: where it may start, where it leads (None: it stays), and the words on its button."""

    name: StepName
    starts: tuple[State, ...]
    leads_to: State | None
    words: str


_BENCH = (
    State.QUEUED,
    State.PREPARED,
    State.ON_TREE,
    State.RESTING,
    State.TO_DECIDE,
    State.FINISHING,
    State.FINISHED,
)
_OPEN = (
    State.EXPECTED,
    State.COUNTER,
    *_BENCH,
    State.WORKING,
    State.SHELVED,
    State.WAITING,
    State.STOPPED,
    State.DECLINED,
)

STEPS: Mapping[str, Step] = {
    step.name: step
    for step in (
        Step(StepName.ARRIVE, (State.EXPECTED,), State.COUNTER, message("Mark as arrived")),
        Step(
            StepName.AGREE,
            (State.EXPECTED, State.COUNTER),
            State.QUEUED,
            message("Send to the bench"),
        ),
        Step(
            StepName.PREPARE,
            (State.QUEUED, State.TO_DECIDE),
            State.PREPARED,
            message("Save as prepared"),
        ),
        Step(
            StepName.PUT_ON,
            (State.QUEUED, State.PREPARED, State.TO_DECIDE),
            State.ON_TREE,
            message("Put on a tree"),
        ),
        Step(StepName.TURN_UP, (State.ON_TREE,), None, message("Turn up the tree")),
        Step(StepName.LEAVE_ON, (State.ON_TREE,), None, message("Leave on longer")),
        Step(StepName.TAKE_OFF, (State.ON_TREE,), State.RESTING, message("Take off the tree")),
        Step(
            StepName.MEASURE_AGAIN,
            (State.RESTING, State.TO_DECIDE),
            State.TO_DECIDE,
            message("Measure again"),
        ),
        Step(StepName.EARLY_READING, (State.RESTING,), None, message("Measured too early")),
        Step(StepName.ANOTHER_ROUND, (State.TO_DECIDE,), State.QUEUED, message("Do another round")),
        Step(
            StepName.DONE,
            (State.COUNTER, State.QUEUED, State.TO_DECIDE),
            State.FINISHING,
            message("Finish stretching"),
        ),
        Step(
            StepName.FINISH,
            (State.TO_DECIDE, State.FINISHING),
            State.FINISHED,
            message("Save as finished"),
        ),
        Step(StepName.START_WORK, (State.QUEUED,), State.WORKING, message("Start the work")),
        Step(
            StepName.WORK_DONE,
            (State.QUEUED, State.WORKING),
            State.SHELVED,
            message("Done: put on the shelf"),
        ),
        Step(
            StepName.SHELVE,
            (State.FINISHING, State.FINISHED, State.DECLINED, State.SHELVED),
            State.SHELVED,
            message("Put on the shelf"),
        ),
        Step(StepName.TRY_ON, (State.SHELVED,), None, message("Try on")),
        Step(
            StepName.BACK_ON_TREE, (State.SHELVED,), State.QUEUED, message("Send back to the bench")
        ),
        Step(
            StepName.MORE_WORK,
            (State.FINISHED, State.SHELVED),
            State.FINISHING,
            message("More work on the boot"),
        ),
        Step(
            StepName.HAND_OVER,
            (State.SHELVED, State.DECLINED, State.FINISHED),
            State.OUT,
            message("Hand over"),
        ),
        Step(StepName.COME_BACK, (State.OUT,), State.QUEUED, message("Back for another look")),
        Step(StepName.CLOSE, (State.OUT,), State.CLOSED, message("Guarantee over")),
        Step(
            StepName.WAIT,
            (*_BENCH, State.COUNTER, State.WORKING),
            State.WAITING,
            message("Put on hold"),
        ),
        Step(StepName.GO_ON, (State.WAITING, State.STOPPED), None, message("Continue the work")),
        Step(
            StepName.STOP,
            (*_BENCH, State.WORKING, State.SHELVED, State.WAITING),
            State.STOPPED,
            message("Report a problem"),
        ),
        Step(StepName.DECLINE, _OPEN, State.DECLINED, message("Give back undone")),
    )
}

# The one next step that the item's page shows as its large button.
_NEXT: Mapping[str, StepName] = {
    State.EXPECTED: StepName.ARRIVE,
    State.COUNTER: StepName.AGREE,
    State.QUEUED: StepName.PREPARE,
    State.PREPARED: StepName.PUT_ON,
    State.ON_TREE: StepName.TAKE_OFF,
    State.RESTING: StepName.MEASURE_AGAIN,
    State.TO_DECIDE: StepName.ANOTHER_ROUND,
    State.FINISHING: StepName.FINISH,
    State.FINISHED: StepName.SHELVE,
    State.SHELVED: StepName.HAND_OVER,
    State.OUT: StepName.COME_BACK,
    State.WAITING: StepName.GO_ON,
    State.STOPPED: StepName.GO_ON,
    State.DECLINED: StepName.HAND_OVER,
    State.WORKING: StepName.WORK_DONE,
}
_NEXT_OF: Mapping[str, Mapping[str, StepName]] = {
    Work.STRETCH: _NEXT,
    Work.OTHER: {**_NEXT, State.QUEUED: StepName.START_WORK},
}

# What went wrong took it off its tree.
_CAME_OFF: Mapping[tuple[str, str], State] = {(State.STOPPED, State.ON_TREE): State.RESTING}

READY = (State.SHELVED, State.DECLINED)
GONE = (State.OUT, State.CLOSED)


def next_step(state: str, work: str) -> Step | None:
    """The usual next step; None when all is over. work: 'stretch' or 'other'."""
    name = _NEXT_OF[work].get(state)
    return STEPS[name] if name else None


def may(state: str, step: str) -> bool:
    """Does the step follow from the state as it stands?"""
    return state in STEPS[step].starts


def after(state: str, step: str, state_before: str = "") -> State:
    """The state a step leads to. state_before: where a waiting or stopped item goes on."""
    if step == StepName.GO_ON:
        before = State(state_before or State.QUEUED)
        return _CAME_OFF.get((state, before), before)
    return STEPS[step].leads_to or State(state)


def way(work: str) -> tuple[State, ...]:
    """The states of this work, in order. work: 'stretch' or 'other'."""
    return _WAYS[work]


def missing(state: str, step: str, work: str) -> tuple[State, ...]:
    """The states that were skipped when a step is saved out of order: after `state`, up to where
    the step may start.

    Empty when the step follows, or leads backwards: then there is nothing to catch up, it is a
    correction.
    """
    along, starts = way(work), STEPS[step].starts
    if state in starts:
        return ()
    ahead = along[along.index(state) + 1 if state in along else 1 :]
    upto = next((number for number, passed in enumerate(ahead) if passed in starts), None)
    return () if upto is None else ahead[: upto + 1]


def further(state: str, work: str) -> tuple[State, ...]:
    """Where an item may be further along than this, in order, for the catch-up list.

    Handing over is never caught up.
    """
    along = tuple(place for place in way(work) if place not in (*GONE, State.EXPECTED))
    return along[along.index(state) + 1 if state in along else 0 :]


def ready(states: Iterable[str]) -> bool:
    """A ticket is ready when every item on it that is still here is, and there is one."""
    here = [state for state in states if state not in GONE]
    return bool(here) and all(state in READY for state in here)
