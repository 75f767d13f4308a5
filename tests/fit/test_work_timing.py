"""Which job on a boot waits for which."""

from __future__ import annotations

import pytest

from fitcounter.fit.item_names import State, Work
from fitcounter.fit.work_timing import (
    STRETCHING,
    LineState,
    OrderedLine,
    Timing,
    before_stretching,
    waits_for,
)


def line(what: str, timing: Timing, state: LineState = LineState.WAITING) -> OrderedLine:
    return OrderedLine(what, timing, state)


ZIP, DYE = line("zip", Timing.AFTER), line("dye", Timing.LAST)
SEAM, TIPS = line("seam", Timing.BEFORE), line("tips", Timing.ANY)


@pytest.mark.parametrize(
    ("asked", "state", "waits"),
    [
        (ZIP, State.QUEUED, STRETCHING),
        (ZIP, State.FINISHING, ""),
        (DYE, State.QUEUED, STRETCHING),
        (DYE, State.FINISHING, "zip"),
        (SEAM, State.QUEUED, ""),
        (TIPS, State.QUEUED, ""),
        (TIPS, State.ON_TREE, STRETCHING),
        (SEAM, State.ON_TREE, STRETCHING),
    ],
)
def test_a_zipper_waits_for_stretching_and_dye_for_both(
    asked: OrderedLine, state: State, waits: str
):
    beside = [one for one in (ZIP, DYE, TIPS) if one is not asked]
    assert waits_for(asked, beside, Work.STRETCH, state) == waits


def test_on_a_thing_that_is_not_stretched_only_the_other_jobs_are_waited_for():
    assert waits_for(ZIP, [SEAM], Work.OTHER, State.QUEUED) == "seam"
    assert waits_for(DYE, [ZIP, SEAM], Work.OTHER, State.QUEUED) == "seam"
    assert waits_for(ZIP, [], Work.OTHER, State.QUEUED) == ""
    assert waits_for(TIPS, [SEAM], Work.OTHER, State.QUEUED) == ""
    done = line("seam", Timing.BEFORE, LineState.DONE)
    assert waits_for(ZIP, [done], Work.OTHER, State.QUEUED) == ""


def test_what_comes_before_stretching_is_named_until_it_is_done_or_given_up():
    assert before_stretching([SEAM, TIPS, ZIP]) == ["seam"]
    for state in (LineState.DONE, LineState.NOT_DONE):
        assert before_stretching([line("seam", Timing.BEFORE, state)]) == []
    assert before_stretching([line("seam", Timing.BEFORE, LineState.WORKING)]) == ["seam"]
