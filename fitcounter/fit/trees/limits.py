"""What an opening by a tree may not do, at any height: pass the limits of the leather, pull zip or
seams past what they hold, or leave the boot too loose.

Lengths are millimetres of inside girth; heights above the inside heel seat. The limits are the
shop's own (`handbook_shop`, `materials`).
"""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from functools import partial
from typing import Literal

from fitcounter.errors import message
from fitcounter.fit.assessment.profile import Profile
from fitcounter.fit.assessment.shaft import leather_now_mm
from fitcounter.fit.handbook.leg import TIE
from fitcounter.fit.handbook.shop import LOOSER_MM
from fitcounter.fit.tape import say_height, say_short_by

_PAST_ROUND = message("At {height} the boot would open {length} more than one round may.")
_PAST_CEILING = message(
    "At {height} the boot would open {length} past the most its leather may ever."
)
_PAST_HOLD = {
    "seam": message("At {height} the boot would open {length} more than its seams hold."),
    "zip": message("At {height} the boot would open {length} more than its zipper holds."),
}


@dataclass(frozen=True, slots=True)
class PullLimit:
    """What holds up to a strain of the leather, between two heights above the heel seat, ends
    included. name: "zip" or "seam".
    """

    name: str
    strain: float
    from_mm: float = -math.inf
    to_mm: float = math.inf


@dataclass(frozen=True, slots=True)
class Wanted:
    """The round a tree is wanted for.

    at_mm: the asked height (tightest place), within boot. girth_mm: the girth wanted there. boot,
    first: inside girth now and as first brought in. leather0_mm: the leather part at a height, as
    first brought in. round_share, ceiling_share: most strain of one opening and ever. kept: share
    of the opening that stays, k_eff·d^(n−1). need: what the boot is short by now, over the heights
    where that is known. holds: what its zip and seams hold. busy: labels of trees taken
    on those days. unit: "in", "cm" or "mm", for sentences.
    """

    side: Literal["left", "right"]
    at_mm: float
    girth_mm: float
    boot: Profile
    first: Profile
    leather0_mm: Callable[[float], float]
    round_share: float
    ceiling_share: float
    kept: float
    need: Profile | None = None
    holds: tuple[PullLimit, ...] = ()
    busy: frozenset[str] = frozenset()
    unit: str = "in"


@dataclass(frozen=True, slots=True)
class AtHeight:
    """What a tree does at one height.

    looseness_mm: gain over need, below 0 while still short; None where no need is asked.
    """

    height_mm: float
    opening_mm: float
    gain_mm: float
    looseness_mm: float | None


def too_much(effects: Sequence[AtHeight], wanted: Wanted) -> str:
    """Why its opening is too much: past the round limit, past the ceiling, or leaving a height too
    loose; the worst height.
    """
    limits: list[tuple[Callable[[AtHeight, Wanted], float], str]] = [
        (_past_round_mm, _PAST_ROUND),
        (_past_ceiling_mm, _PAST_CEILING),
        *((partial(_past_hold_mm, hold=hold), _PAST_HOLD[hold.name]) for hold in wanted.holds),
    ]
    for excess_of, words in limits:
        excess, height = max((excess_of(effect, wanted), effect.height_mm) for effect in effects)
        if excess > TIE:
            return message(
                words,
                height=say_height(height, wanted.unit),
                length=say_short_by(excess, wanted.unit),
            )
    looseness, height = max((effect.looseness_mm or 0.0, effect.height_mm) for effect in effects)
    if looseness > LOOSER_MM + TIE:
        return message(
            "Leaves the boot {amount} looser than wanted at {height}.",
            amount=say_short_by(looseness, wanted.unit),
            height=say_height(height, wanted.unit),
        )
    return ""


def _past_round_mm(effect: AtHeight, wanted: Wanted) -> float:
    return effect.opening_mm - wanted.round_share * _leather_mm(effect.height_mm, wanted)


def _leather_mm(height_mm: float, wanted: Wanted) -> float:
    """The leather part now."""
    return leather_now_mm(
        wanted.leather0_mm(height_mm), wanted.first.at(height_mm), wanted.boot.at(height_mm)
    )


def _past_hold_mm(effect: AtHeight, wanted: Wanted, hold: PullLimit) -> float:
    """0 where it does not span."""
    height = effect.height_mm
    if not hold.from_mm - TIE <= height <= hold.to_mm + TIE:
        return 0.0
    return effect.opening_mm - hold.strain * _leather_mm(height, wanted)


def _past_ceiling_mm(effect: AtHeight, wanted: Wanted) -> float:
    """0 where this tree opens nothing: a boot already past its ceiling there is no reason against
    the tree.
    """
    if effect.opening_mm <= TIE:
        return 0.0
    grown = wanted.boot.at(effect.height_mm) + effect.opening_mm - wanted.first.at(effect.height_mm)
    return grown - wanted.ceiling_share * wanted.leather0_mm(effect.height_mm)
