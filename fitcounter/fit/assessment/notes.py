"""What is said beside the answer to a boot, each as a code; `reasons` has a sentence for each.

nearly-closes, springs-back, low-place, elastic-first and rested-again; what was read outside the
boot's readings is in `read_span`.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from fitcounter.fit.assessment.girth_now import PlaceNow
from fitcounter.fit.assessment.job_boot import Boot
from fitcounter.fit.assessment.kept_fraction import MeasuredRound
from fitcounter.fit.handbook.leather import ELASTIC_YIELD, LOW_PLACE_MM, SPRINGS_BACK
from fitcounter.fit.handbook.leg import BOOT_READING_MM, TIE, TOLERANCE_MM
from fitcounter.fit.handbook.load import SAME_STRAIN
from fitcounter.fit.handbook.rounds import AGAIN_SDS


def notes_of(
    boot: Boot,
    target: str,
    rounds: Sequence[MeasuredRound],
    now: Sequence[PlaceNow],
    worst: PlaceNow,
) -> tuple[str, ...]:
    """The notes on a boot that is not refused, in their order.

    target: "leg", "gap" or "amount"; rounds: its life, oldest first; worst: its tightest place now.
    """
    return (
        *_standing_notes(boot, target, now, worst),
        *(("rested-again",) if rested_again(rounds, worst.need_mm) else ()),
    )


def _standing_notes(
    boot: Boot, target: str, now: Sequence[PlaceNow], worst: PlaceNow
) -> Iterator[str]:
    if not worst.short:
        if target == "gap" and worst.need_mm > TIE:
            yield "nearly-closes"
        return
    if worst.strain_total < SPRINGS_BACK - SAME_STRAIN:
        yield "springs-back"
    if worst.height_mm < LOW_PLACE_MM - TIE:
        yield "low-place"
    if target == "leg" and all(
        place.need_mm - elastic_give_mm(boot, target, place.height_mm) <= TOLERANCE_MM + TIE
        for place in now
        if place.short
    ):
        yield "elastic-first"


def elastic_give_mm(boot: Boot, target: str, height_mm: float) -> float:
    """What live elastic gives at a height under a gentle pull; 0 by gap, which has it already."""
    if target == "gap" or boot.elastic is None or not boot.elastic.spans(height_mm):
        return 0.0
    return ELASTIC_YIELD * boot.elastic.width_mm


def rested_again(rounds: Sequence[MeasuredRound], need_mm: float) -> bool:
    """True where the last round's rested reading was taken once, and a second could turn done into
    not done or back.
    """
    last = rounds[-1] if rounds else None
    if last is None or last.rested_mm is None or last.rested_count > 1:
        return False
    sigma = last.factor * BOOT_READING_MM
    return abs(need_mm - TOLERANCE_MM) < AGAIN_SDS * sigma
