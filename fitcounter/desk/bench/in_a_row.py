"""One step with boot after boot: which boots are due for it, and which comes next; left and right
of a pair follow each other.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta

from fitcounter.desk.bench.board import Board, Entry
from fitcounter.fit.item_names import StepName
from fitcounter.store.bench_board import BoardRow

STEPS = (StepName.PUT_ON, StepName.TURN_UP, StepName.TAKE_OFF, StepName.MEASURE_AGAIN)
# What is decided of a boot that was measured: the next one is measured then.
_DECIDED = (StepName.ANOTHER_ROUND, StepName.DONE)
# Two boots that are due so shortly after each other are due together.
TOGETHER = timedelta(hours=1)


@dataclass(frozen=True, slots=True)
class Together:
    """What stands in one row of a list: one item, or left and right of a pair. at: the later."""

    entries: tuple[Entry, ...]

    @property
    def row(self) -> BoardRow:
        return self.entries[0].row

    @property
    def at(self) -> datetime | None:
        return max((one.at for one in self.entries if one.at is not None), default=None)

    @property
    def trees(self) -> tuple[str, ...]:
        return tuple(one.tree for one in self.entries if one.tree)


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
    mate = next((one for one in left if last and _mates(one.row, last)), None)
    return mate or (left[0] if left else None)


def together(
    found: Sequence[Entry], words: Callable[[BoardRow], str] = lambda row: ""
) -> list[Together]:
    """A list's rows, in its order: left and right of a pair are one where nothing told them apart.

    words: what else their row says of an item.
    """
    rows: list[list[Entry]] = []
    single: dict[int, list[Entry]] = {}
    for one in found:
        mate = single.get(one.row.fit_id) if one.row.fit_id and one.row.side else None
        if mate and _alike(mate[0], one) and words(mate[0].row) == words(one.row):
            mate.append(one)
            mate.sort(key=lambda entry: entry.row.side or "")
            continue
        rows.append([one])
        if one.row.fit_id and one.row.side:
            single[one.row.fit_id] = rows[-1]
    return [Together(tuple(row)) for row in rows]


def _alike(one: Entry, other: Entry) -> bool:
    if not _mates(one.row, other.row) or one.row.state != other.row.state:
        return False
    if bool(one.tree) != bool(other.tree):
        return False
    if one.at is None or other.at is None:
        return one.at is other.at
    return abs(one.at - other.at) <= TOGETHER


def _mates(one: BoardRow, other: BoardRow) -> bool:
    """Left and right of one pair."""
    return (one.fit_id, one.ticket_id) == (other.fit_id, other.ticket_id) and (
        {one.side, other.side} == {"left", "right"}
    )
