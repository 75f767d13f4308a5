"""Which of the jobs on one boot waits for which: before, beside, after or last of all around the
stretching.

The order of the trade, common practice without a source: an open seam is sewn before leather is
pulled, a zipper goes in when the size is final, color and polish come last.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from enum import StrEnum

from fitcounter.errors import message
from fitcounter.fit.item_names import State, Work


class Timing(StrEnum):
    """When a job on a boot is done, as it is stored."""

    BEFORE = "before"
    ANY = "any"
    AFTER = "after"
    LAST = "last"


class LineState(StrEnum):
    """Where a job on one boot is, as it is stored."""

    WAITING = "waiting"
    WORKING = "working"
    DONE = "done"
    NOT_DONE = "not-done"


TIMINGS: Mapping[str, str] = {
    Timing.BEFORE: message("before stretching"),
    Timing.ANY: message("at any time"),
    Timing.AFTER: message("after stretching"),
    Timing.LAST: message("last of all"),
}
LINE_STATES: Mapping[str, str] = {
    LineState.WAITING: message("to do"),
    LineState.WORKING: message("in work"),
    LineState.DONE: message("done"),
    LineState.NOT_DONE: message("not done"),
}
OPEN = (LineState.WAITING, LineState.WORKING)
STRETCHING = "stretching"  # what a job may wait for beside another one
_RANK = {Timing.BEFORE: 0, Timing.ANY: 1, Timing.AFTER: 1, Timing.LAST: 2}
_STRETCHED = (
    *(State.FINISHING, State.FINISHED, State.SHELVED),
    *(State.OUT, State.CLOSED),
)


@dataclass(frozen=True, slots=True)
class OrderedLine:
    """A job on one boot. what: as it is called."""

    what: str
    timing: Timing
    state: LineState

    @property
    def is_open(self) -> bool:
        return self.state in OPEN


def waits_for(line: OrderedLine, beside: Iterable[OrderedLine], work: str, state: str) -> str:
    """What a job on a boot waits for: the name of another job, STRETCHING, or "" where it can be
    done now.

    beside: the other jobs on the same boot. work, state: of the boot; nothing is sewn on a tree.
    """
    stretched = work != Work.STRETCH or state in _STRETCHED
    if not stretched and (line.timing in (Timing.AFTER, Timing.LAST) or state == State.ON_TREE):
        return STRETCHING
    earlier = [one for one in beside if one.is_open and _RANK[one.timing] < _RANK[line.timing]]
    if earlier and line.timing != Timing.ANY:
        return min(earlier, key=lambda one: _RANK[one.timing]).what
    return ""


def before_stretching(lines: Iterable[OrderedLine]) -> list[str]:
    """Jobs that are still to be done before a boot goes on a tree."""
    return [one.what for one in lines if one.is_open and one.timing == Timing.BEFORE]
