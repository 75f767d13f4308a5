"""When to stop a boot before another round: the shop's own rules, each with its own sentence; a
damage seen at the bench stops at once.
"""

from __future__ import annotations

from collections.abc import Collection, Sequence

from fitcounter.errors import message
from fitcounter.fit.assessment.kept_fraction import MeasuredRound
from fitcounter.fit.assessment.opening_ahead import Opening
from fitcounter.fit.handbook import rounds as book
from fitcounter.fit.handbook.leg import TIE, TOLERANCE_MM

DAMAGE = {
    "leather-cracked": message("The leather has cracked: stop, a crack cannot be repaired."),
    "seam-split": message("A seam has split: stop, it has to be sewn before anything else."),
    "zip-off": message("The zip has come off its teeth or out of its seam: stop."),
    "elastic-torn": message("The elastic has torn or come loose: stop, it must be replaced."),
    "grain-whitening": message("The grain whitens: stop, it is about to crack."),
    "stitch-holes": message("The stitch holes open: stop, the seam is about to tear."),
    "zip-gaping": message("The zip gapes: stop, it carries what the leather should."),
    "lining-tearing": message("The lining tears: stop, it is shorter than the upper."),
    "lasting-wave": message("A wave stands above the sole: stop, the shaft pulls on the foot."),
}
# How the tree came out at the end of the hold, as the bench notes it: common practice, no source.
SET_SIGNS = {
    "dropped": message("The tree dropped out freely: a sign that the set held."),
    "gripped": message("The tree gripped: a sign that the set did not hold."),
}


STOPS = {
    "ceiling": message("This is as far as this leather will go, and it is still short."),
    "poor-rounds": message(
        "Two rounds running kept under a fifth: this leather gives and does not keep."
    ),
    "small-gain": message("The last round gained far less than this leather should."),
    "rounds-beyond": message(
        "All the rounds agreed are done: ask the customer before another one."
    ),
}


def stop_rule(
    rounds: Sequence[MeasuredRound], surprise: float | None, opening: Opening, agreed: int
) -> str | None:
    """The rule that says to stop a short boot before another round, of STOPS; None to go on, and
    while it is on a tree.

    rounds: the boot's life, oldest first; surprise: of the last one (`kept.Belief`); opening: the
    next one; agreed: the number of rounds the customer agreed to.
    """
    if opening.limited_by == "running":
        return None
    if opening.limited_by == "ceiling" and opening.opening_mm <= TOLERANCE_MM + TIE:
        return "ceiling"
    if len(rounds) > 1 and all(_kept_poorly(turn) for turn in rounds[-2:]):
        return "poor-rounds"
    if surprise is not None and surprise < -book.SMALL_GAIN_SDS:
        return "small-gain"
    return "rounds-beyond" if len(rounds) >= agreed else None


def stop_sentences(stop: str | None, seen: Collection[str]) -> list[str]:
    """Why to stop before another round, one sentence for each reason; empty to go on.

    stop: of STOPS; seen: findings of the bench, of DAMAGE those that stop.
    """
    damage = [sentence for finding, sentence in DAMAGE.items() if finding in seen]
    return [*damage, *([STOPS[stop]] if stop else [])]


def _kept_poorly(turn: MeasuredRound) -> bool:
    return turn.kept is not None and turn.kept < book.KEPT_POOR
