"""Where a second reading is worth its time: only where the doubt of the readings could change the
answer.

The verdict is asked again at need plus and minus twice its standard uncertainty; where tier and
likely rounds stay, what was read is good enough.
"""

from __future__ import annotations

from collections.abc import Sequence
from functools import partial
from typing import TypeVar

from fitcounter.errors import message
from fitcounter.fit.assessment.heel_seat_heights import leg_heights_mm, seat_height_mm
from fitcounter.fit.assessment.job import Job, Side
from fitcounter.fit.assessment.need import Place
from fitcounter.fit.assessment.slips import Slip, at
from fitcounter.fit.assessment.verdict import Case, Outlook, Verdict, outlook, with_need
from fitcounter.fit.handbook.leg import LOOK_AGAIN_U, TIE
from fitcounter.fit.tape import Length

GOOD_ENOUGH = message("what was read is good enough: a second reading would not change the answer")
_Entry = TypeVar("_Entry")


def could_move(case: Case, verdict: Verdict) -> bool:
    """True where the doubt of the readings could change tier or likely rounds; never for what is
    refused.
    """
    if verdict.tier == "refuse":
        return False
    answer = Outlook(verdict.tier, verdict.likely)
    return any(
        outlook(with_need(case, partial(_doubt_mm, times=times))) != answer
        for times in (LOOK_AGAIN_U, -LOOK_AGAIN_U)
    )


def _doubt_mm(place: Place, times: float) -> float:
    """So many times the doubt of the need at a place."""
    return times * place.need_u_mm


def second_readings(job: Job, side: Side, verdict: Verdict) -> list[Slip]:
    """The readings beside the tightest place that were taken once; asked for where the answer could
    move.
    """
    height = verdict.worst.height_mm
    if side.target != "leg":
        gaps = _nearest([(gap.height.float_mm, gap) for gap in side.gaps], height)
        return [_ask(side, "gap", gap.height) for gap in gaps if len(gap.readings) == 1]
    legs = _nearest(list(zip(leg_heights_mm(job, side), side.leg, strict=True)), height)
    boots = _nearest(
        [(seat_height_mm(reading, side.boot, side.name), reading) for reading in side.shaft], height
    )
    return [
        _ask(side, what, reading.height)
        for what, readings in (("leg", legs), ("boot", boots))
        for reading in readings
        if len(reading.girths) == 1
    ]


def _ask(side: Side, what: str, height: Length) -> Slip:
    return Slip(
        side.name,
        *at(side, what, height),
        message("Please measure again: a second reading here could change the answer."),
    )


def _nearest(entries: Sequence[tuple[float, _Entry]], height_mm: float) -> list[_Entry]:
    """The entry at a height, else its neighbours below and above."""
    here = [entry for height, entry in entries if abs(height - height_mm) < TIE]
    if here:
        return here
    below = max((pair for pair in entries if pair[0] < height_mm), key=_height, default=None)
    above = min((pair for pair in entries if pair[0] > height_mm), key=_height, default=None)
    return [pair[1] for pair in (below, above) if pair is not None]


def _height(pair: tuple[float, _Entry]) -> float:
    return pair[0]
