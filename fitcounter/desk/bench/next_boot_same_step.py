"""One step with boot after boot: which boots are due for it, and which comes next; left and right
of a pair follow each other.
"""

from __future__ import annotations

from collections.abc import Sequence
from datetime import datetime

from fitcounter.desk.bench.board import Board, Entry
from fitcounter.desk.bench.pair_in_one_row import are_a_pair, together
from fitcounter.fit.item_names import StepName
from fitcounter.store.bench_board import BoardRow

STEPS = (StepName.PUT_ON, StepName.TURN_UP, StepName.TAKE_OFF, StepName.MEASURE_AGAIN)
# What is decided of a boot that was measured: the next one is measured then.
_DECIDED = (StepName.ANOTHER_ROUND, StepName.DONE)


def step_of_row(do: str, did: str) -> str:
    """The step that is done with boot after boot: the one asked for, or the one just saved; ""
    where it is none of those.
    """
    if do in STEPS:
        return do
    step = StepName.MEASURE_AGAIN if did in _DECIDED else did
    return step if step in STEPS else ""


def due(seen: Board, step: str, now: datetime) -> list[Entry]:
    """What may have this step now, in the order of work, both boots of a pair one after another."""
    lists = {
        StepName.PUT_ON: seen.on,
        StepName.TURN_UP: seen.turn_up,
        StepName.TAKE_OFF: seen.off,
        StepName.MEASURE_AGAIN: seen.read,
    }
    ready = [
        one
        for one in lists.get(StepName(step), ())
        if step == StepName.TURN_UP or one.at is None or one.at <= now
    ]
    return [one for row in together(ready) for one in row.entries]


def next_due(
    waiting: Sequence[Entry], last: BoardRow | None = None, same_id: int | None = None
) -> Entry | None:
    """The boot after the last one: its other boot first. same_id: that one, where it is offered by
    itself.
    """
    gone = {same_id, last.id if last else None}
    left = [one for one in waiting if one.row.id not in gone]
    mate = next((one for one in left if last and are_a_pair(one.row, last)), None)
    return mate or (left[0] if left else None)
