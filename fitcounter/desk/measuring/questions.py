"""The questions about what was measured, none of which blocks: each says why it is asked, and may
be left as it is.
"""

from __future__ import annotations

from collections.abc import Collection, Sequence
from dataclasses import dataclass

from fitcounter.desk.assessment import learnt_from_own_boots, limits
from fitcounter.desk.assessment.job import build_job
from fitcounter.desk.common.and_list import and_list
from fitcounter.desk.common.translation import say, told
from fitcounter.desk.measuring.sheet import SIDES, SheetLine, cell_name
from fitcounter.fit.assessment.slips import Slip
from fitcounter.fit.tape import parse_length, say_length
from fitcounter.store.database import Store
from fitcounter.store.records import Fit, Item

MOST = 40


@dataclass(frozen=True, slots=True)
class Ask:
    """One question and the places it is about, in words: left leg, 10½ in and 12½ in.

    number: among all questions about these readings.
    """

    number: int
    question: str
    where: tuple[str, ...]


def slips(store: Store, fit: Fit, read: Sequence[Item]) -> list[Slip]:
    """The questions of fit.slips and fit.second_look about what is stored."""
    if not read:
        return []
    job = build_job(store, fit, read, records=learnt_from_own_boots.records(store, fit.id))
    assessment = limits.assessed(store, job, safe=read[0].target == "safe")
    return [slip for side in assessment.sides for slip in side.slips]


def asked(slips: Sequence[Slip], skipped: Collection[int]) -> tuple[tuple[Ask, ...], list[Slip]]:
    """Each question once, with its places: the heights of one leg or boot together; and what it
    asks. skipped: by number, left out of both.
    """
    by_question: dict[str, list[Slip]] = {}
    for slip in slips:
        by_question.setdefault(told(slip.question), []).append(slip)
    left = {
        number: (question, about)
        for number, (question, about) in enumerate(by_question.items())
        if number not in skipped
    }
    asks = (Ask(number, question, _where(about)) for number, (question, about) in left.items())
    return tuple(asks), [slip for _, about in left.values() for slip in about]


def _where(about: Sequence[Slip]) -> tuple[str, ...]:
    """ "left leg, 10½ in and 12½ in", "right leg"."""
    places: dict[str, list[str]] = {}
    for slip in about:
        heights = places.setdefault(told(slip.thing), [])
        if slip.height:
            heights.append(told(slip.height))
    return tuple(
        say("{thing}, {height}", thing=thing, height=and_list(heights)) if heights else thing
        for thing, heights in places.items()
    )


def again(slips: Sequence[Slip], lines: Sequence[SheetLine], unit: str) -> frozenset[str]:
    """The cells that these questions are about; a question about both legs is about two."""
    about = {slip.where for slip in slips}
    found = set()
    for row, line in enumerate(lines if about else ()):
        if not line.height:
            continue
        height = parse_length(line.height, unit, zero_ok=True)
        said = say_length(height.mm, height.unit)
        for what in ("leg", "boot", "gap"):
            for side in SIDES:
                if {f"{side} {what}, {said}", f"both {what}s, {said}"} & about:
                    found.add(cell_name(what, side, row))
    return frozenset(found)
