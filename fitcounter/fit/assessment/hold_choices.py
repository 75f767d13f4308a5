"""What a shorter or longer hold would do, and how many rounds one tree takes."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

from fitcounter.fit.assessment.opening_ahead import Stand, next_opening
from fitcounter.fit.assessment.rounds_ahead import odds
from fitcounter.fit.handbook import rounds as book
from fitcounter.fit.handbook.bench import HOURS_A_DAY


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
