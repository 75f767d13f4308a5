"""What would change the answer, cheapest first; each is tried, and only one that does better is
named.

A strap one hole on · thinner hosiery · the next snugger ease · more rounds · a wider zip facing ·
mending · a panel.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import replace

from fitcounter.errors import message
from fitcounter.fit.assessment.job import Ease, Job, Side
from fitcounter.fit.assessment.legs import EASES
from fitcounter.fit.assessment.materials import EXOTIC, OPEN_SEAM
from fitcounter.fit.assessment.need import Place, with_ease_mm
from fitcounter.fit.assessment.panel import Panel
from fitcounter.fit.assessment.verdict import (
    TIERS,
    Case,
    Outlook,
    Verdict,
    fits_already,
    outlook,
    repairs,
    with_need,
)
from fitcounter.fit.assessment.words import TIER_WORDS, rounds_words
from fitcounter.fit.handbook import rounds as book
from fitcounter.fit.handbook.leg import MM_PER_INCH, TIE
from fitcounter.fit.tape import say_height, say_length, say_short_by

STRAP = message("use the next strap hole, if there is one")
_THICK_LAYERS = ("sock", "breeches", "jeans")
EASE_WORDS = {
    "snug": message("tight"),
    "close": message("close to the skin"),
    "easy": message("one finger"),
    "roomy": message("two fingers"),
}


def what_would_change(job: Job, side: Side, case: Case, verdict: Verdict) -> list[str]:
    """Sentences, cheapest first; none where the boot fits already."""
    if verdict.tier == "none":
        return []
    sentences = []
    if TIERS.index(verdict.tier) >= TIERS.index("stages"):
        sentences.append(STRAP)
    sentences.extend(
        message("{change}: {outcome}", change=change, outcome=_outcome(other))
        for change, other in _better(job, side, case, verdict)
    )
    if verdict.panel is not None:
        sentences.append(panel_words(verdict.panel, verdict.places[-1].height_mm, job.unit))
    return sentences


def _better(job: Job, side: Side, case: Case, verdict: Verdict) -> Iterator[tuple[str, Outlook]]:
    """What does better than the verdict; of each kind the smallest step that does."""
    at_best = (verdict.tier, verdict.likely) == ("routine", 1)
    by_leg = (_thinner(job, side, case), _snugger(job, side, case))
    for kind in (
        *by_leg,
        _more_rounds(case) if verdict.tier == "panel" else (),
        _wider_facing(case, job.unit),
        _mended(case),
        _signed_off(case),
    ):
        for said, changed in kind:
            if at_best and not fits_already(changed):
                continue
            other = outlook(changed)
            if _does_better(other, verdict):
                yield said, other
                break


def _does_better(other: Outlook, verdict: Verdict) -> bool:
    if other.tier != verdict.tier:
        return TIERS.index(other.tier) < TIERS.index(verdict.tier)
    return other.likely is not None and (verdict.likely is None or other.likely < verdict.likely)


def _outcome(other: Outlook) -> str:
    if other.tier == "none":
        return message("that alone is enough")
    words = TIER_WORDS[other.tier]
    if other.likely is None or other.tier in ("panel", "refuse"):
        return words  # rounds are said of stretching alone
    return message(
        "{answer} (most likely {rounds})", answer=words, rounds=rounds_words(other.likely)
    )


def _thinner(job: Job, side: Side, case: Case) -> Iterator[tuple[str, Case]]:
    if side.target != "leg" or not (job.leg.over in _THICK_LAYERS or job.leg.layer_mm > 0):
        return
    for steps in (1, 2):
        thinner = steps * book.HOSIERY_STEP_MM
        words = message("thinner socks, by {length}", length=f"{thinner:g} mm")
        yield words, _less(case, 2 * math.pi * thinner)


def _less(case: Case, mm: float) -> Case:
    return with_need(case, lambda _: -mm)


def _snugger(job: Job, side: Side, case: Case) -> Iterator[tuple[str, Case]]:
    if side.target != "leg" or job.ease.word not in EASES[1:]:
        return
    word = EASES[EASES.index(job.ease.word) - 1]

    def change(place: Place) -> float:
        leg = place.leg_mm or 0.0
        return with_ease_mm(leg, Ease(word, 0.0)) - with_ease_mm(leg, job.ease)

    words = message(
        "{less} instead of {more}", less=EASE_WORDS[word], more=EASE_WORDS[job.ease.word]
    )
    yield words, with_need(case, change)


def _more_rounds(case: Case) -> Iterator[tuple[str, Case]]:
    for rounds in range(case.max_rounds + 1, book.MOST_ROUNDS + 1):
        words = message("{more} rounds instead of {fewer}", more=rounds, fewer=case.max_rounds)
        yield words, replace(case, max_rounds=rounds)


def _wider_facing(case: Case, unit: str) -> Iterator[tuple[str, Case]]:
    if case.boot.zip is None:
        return
    for inch in book.FACING_STEPS_INCH:
        wider = 2 * inch * float(MM_PER_INCH)
        words = message(
            "a zipper facing {length} wider on each side", length=say_length(wider / 2, unit)
        )
        yield words, _less(case, wider)


def _mended(case: Case) -> Iterator[tuple[str, Case]]:
    broken = repairs(case)
    if not broken:
        return
    boot = (
        case.boot
        if case.boot.zip is None
        else replace(case.boot, zip=replace(case.boot.zip, state="sound"))
    )
    findings = tuple(finding for finding in case.findings if finding != OPEN_SEAM)
    words = (
        message("once zipper and seam are repaired")
        if len(broken) > 1
        else message("once the zipper is repaired")
        if broken[0] == "zip"
        else message("once the seam is sewn")
    )
    yield words, replace(case, boot=boot, findings=findings)


def _signed_off(case: Case) -> Iterator[tuple[str, Case]]:
    if case.leather.code == EXOTIC and not case.boot.signed_off:
        words = message("with the owner’s approval")
        yield words, replace(case, boot=replace(case.boot, signed_off=True))


def panel_words(panel: Panel, highest_mm: float, unit: str) -> str:
    """ "a panel 2¼ in wide at the top, running down to 8 in; live elastic in it would yield …".

    highest_mm: the highest evaluated height: where it is short at that height alone, nobody knows
    how far down a panel runs.
    """
    top, widest = say_short_by(panel.top_mm, unit), say_short_by(panel.widest_mm, unit)
    down = _running(panel, highest_mm, say_height(panel.down_to_mm, unit))
    words = (
        message("a panel {top} wide at the top, {down}", top=top, down=down)
        if top == widest
        else message(
            "a panel {widest} at its widest, {top} at the top, {down}",
            widest=widest,
            top=top,
            down=down,
        )
    )
    if panel.elastic_give_mm <= 0:
        return words
    return message(
        "{panel}; the elastic gives another {length} of that",
        panel=words,
        length=say_length(panel.elastic_give_mm, unit),
    )


def let_in_words(panel: Panel, highest_mm: float, unit: str) -> str:
    """ "2¼ in wide at the top, running down to 8 in": the size of whatever is let in."""
    top, widest = say_short_by(panel.top_mm, unit), say_short_by(panel.widest_mm, unit)
    down = _running(panel, highest_mm, say_height(panel.down_to_mm, unit))
    if top == widest:
        return message("{top} wide at the top, {down}", top=top, down=down)
    return message(
        "{widest} at its widest, {top} at the top, {down}", widest=widest, top=top, down=down
    )


def _running(panel: Panel, highest_mm: float, down: str) -> str:
    if panel.down_to_mm >= highest_mm - TIE:
        return message(
            "read at {height} only: measure lower to see how far down it runs", height=down
        )
    if panel.open_below:
        return message("running at least down to {down}: measure lower", down=down)
    return message("running down to {down}", down=down)
