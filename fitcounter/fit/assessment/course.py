"""While a boot is on its way: when to stop, and what a shorter or longer hold would do.

Stop rules are the shop's own, each with its own sentence; a damage seen at the bench stops at once.
"""

from __future__ import annotations

import math
from collections.abc import Collection, Sequence
from dataclasses import dataclass, replace

from fitcounter.fit.assessment.forecast import Opening, Stand, next_opening, odds
from fitcounter.fit.assessment.kept import Round
from fitcounter.fit.handbook import rounds as book
from fitcounter.fit.handbook.bench import HOURS_A_DAY
from fitcounter.fit.handbook.leg import TIE, TOLERANCE_MM

DAMAGE = {
    "grain-whitening": "The grain whitens: stop, it is about to crack.",
    "stitch-holes": "The stitch holes open: stop, the seam is about to tear.",
    "zip-gaping": "The zip gapes: stop, it carries what the leather should.",
    "lining-tearing": "The lining tears: stop, it is shorter than the upper.",
    "lasting-wave": "A wave stands above the sole: stop, the shaft pulls on the foot.",
}
# How the tree came out at the end of the hold, as the bench notes it: common practice, no source.
SET_SIGNS = {
    "dropped": "The tree dropped out freely: a sign that the set held.",
    "gripped": "The tree gripped: a sign that the set did not hold.",
}


def stop_sentences(
    rounds: Sequence[Round], opening: Opening | None, seen: Collection[str], agreed: int
) -> list[str]:
    """Why to stop before another round, one sentence for each rule that says so; empty to go on.

    rounds: the boot's life, oldest first; opening: the next one, None where the boot is done; seen:
    findings of the bench, of DAMAGE those that stop; agreed: the number of rounds the customer
    agreed to.
    """
    read = [turn for turn in rounds if turn.gain_mm is not None]
    said = [sentence for finding, sentence in DAMAGE.items() if finding in seen]
    if opening is not None and opening.limited_by != "running":
        if opening.opening_mm <= TOLERANCE_MM + TIE:
            said.append(
                "The ceiling is reached: the next opening is inside reading error, and it is still"
                " short."
            )
        if len(rounds) >= agreed:
            said.append("All the rounds agreed are done: ask the customer before another one.")
    if len(read) > 1 and all(_kept_poorly(turn) for turn in read[-2:]):
        said.append("Two rounds running kept under a fifth: this leather gives and does not keep.")
    if read and _gain(read[-1]) < book.GAIN_SMALL_MM:
        said.append("The last round gained less than reading error can tell.")
    return said


def _kept_poorly(turn: Round) -> bool:
    return turn.kept is not None and turn.kept < book.KEPT_POOR


def _gain(turn: Round) -> float:
    return math.inf if turn.gain_mm is None else turn.gain_mm


@dataclass(frozen=True, slots=True)
class HoldChoice:
    """What a hold would do.

    likely, eight_in_ten: further rounds, None for more than six; days: on tree and rest, likely
    rounds.
    """

    hold_h: float
    likely: int | None
    eight_in_ten: int | None
    days: int | None


def hold_choices(stand: Stand) -> list[HoldChoice]:
    """The forecast at 48, 72 and 168 h; a round that is running keeps the hold it has."""
    return [_with_hold(replace(stand, hold_h=hold_h)) for hold_h in book.HOLD_CHOICES_H]


def _with_hold(stand: Stand) -> HoldChoice:
    further = odds(stand, next_opening(stand))
    days = None if further.likely is None else further.likely * round_days(stand.hold_h)
    return HoldChoice(stand.hold_h, further.likely, further.eight_in_ten, days)


def round_days(hold_h: float) -> int:
    """Whole days of one round: on the tree, and a day of rest."""
    return math.ceil(hold_h / HOURS_A_DAY) + math.ceil(book.REST_H / HOURS_A_DAY)


def rounds_on_one_tree(
    first_mm: float, wanted_mm: float, tree_mm: float, kept: float
) -> int | None:
    """Rounds from first to wanted girth with a constant tree and a constant kept fraction in (0,
    1); None: never.
    """
    if first_mm >= wanted_mm:
        return 0
    if tree_mm <= wanted_mm:
        return None
    return math.ceil(math.log((tree_mm - wanted_mm) / (tree_mm - first_mm)) / math.log(1 - kept))
