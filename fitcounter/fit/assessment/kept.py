"""What a go on the tree keeps: from the class of leather, this boot's own rounds, and the shop's
records.

The fraction kept after 24 h is normal; rounds and records correct it (conjugate updates). Openings
and gains are mm of girth, holds are hours.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from fitcounter.fit.handbook import rounds as book
from fitcounter.fit.handbook.leg import BOOT_READING_MM, FLAT_FACTOR


@dataclass(frozen=True, slots=True)
class Round:
    """One go on the tree, all readings by one method at one mark, as read (a width where the method
    is "flat").

    on_tree_mm is None where it was not recorded or read by another method: such a round grew the
    boot but gives no kept fraction. rested_mm is None while it runs. hold_h > 0.
    """

    before_mm: float
    on_tree_mm: float | None
    rested_mm: float | None
    method: str = "outside"
    hold_h: float = book.HOLD_H
    dry: bool = False

    @property
    def factor(self) -> int:
        """Girth per reading: a width laid flat counts twice."""
        return FLAT_FACTOR if self.method == "flat" else 1

    @property
    def opening_mm(self) -> float | None:
        return None if self.on_tree_mm is None else self.factor * (self.on_tree_mm - self.before_mm)

    @property
    def gain_mm(self) -> float | None:
        return None if self.rested_mm is None else self.factor * (self.rested_mm - self.before_mm)

    @property
    def kept(self) -> float | None:
        """Share of the opening that stayed; None where it is not known."""
        opening, gain = self.opening_mm, self.gain_mm
        return None if opening is None or gain is None else gain / opening


@dataclass(frozen=True, slots=True)
class Kept:
    """The fraction kept after 24 h, conditioned, in a first round: normal.

    rounds, boots: what it stands on.
    """

    mean: float
    sd: float
    rounds: int = 0
    boots: int = 0


def growth_mm(rounds: Sequence[Round]) -> float:
    """How much the boot has grown at the tightest place over its read rounds.

    A rested reading is compared with the rested reading before it where both were taken by one
    method, else with its own round's start.
    """
    grown, method, rested = 0.0, "", 0.0
    for turn in rounds:
        if turn.rested_mm is not None:
            start = rested if turn.method == method else turn.before_mm
            method, rested = turn.method, turn.rested_mm
            grown += turn.factor * (rested - start)
    return grown


def hold_bonus(hold_h: float) -> float:
    """What a hold adds to the fraction kept after 24 h; negative for a shorter one."""
    return book.KEPT_PER_DECADE * math.log10(hold_h / book.KEPT_BASE_H)


@dataclass(frozen=True, slots=True)
class Keeping:
    """How a round keeps, apart from its leather.

    bonus: added to the fraction kept after 24 h; factor: of what that gives.
    """

    bonus: float
    factor: float

    @classmethod
    def of(cls, hold_h: float, dry: bool, number: int) -> Keeping:
        """The number-th round of the boot's life (from 1), held so long, prepared dry or
        conditioned.
        """
        return cls(
            hold_bonus(hold_h), (book.DRY_FACTOR if dry else 1) * book.STIFFENING ** (number - 1)
        )

    def kept(self, kept_24h: float) -> float:
        """The share of the opening that stays."""
        return self.factor * min(book.KEPT_MOST, max(book.KEPT_LEAST, kept_24h + self.bonus))


def _evidence(rounds: Iterable[Round]) -> tuple[float, float, int]:
    """Precision, precision times value, and count of what rounds say about the fraction kept after
    24 h.
    """
    precision, weighted, count = 0.0, 0.0, 0
    for number, turn in enumerate(rounds, start=1):
        if turn.opening_mm is None or turn.gain_mm is None:
            continue
        reach = (
            turn.opening_mm * book.STIFFENING ** (number - 1) * (book.DRY_FACTOR if turn.dry else 1)
        )
        variance = 2 * (turn.factor * BOOT_READING_MM) ** 2
        precision += reach**2 / variance
        weighted += reach * (turn.gain_mm - reach * hold_bonus(turn.hold_h)) / variance
        count += 1
    return precision, weighted, count


def corrected(prior: Kept, rounds: Sequence[Round]) -> Kept:
    """The prior corrected by this boot's own rounds, oldest first (unread ones count as lived, and
    say nothing).
    """
    told, weighted, count = _evidence(rounds)
    precision = 1 / prior.sd**2 + told
    mean = (prior.mean / prior.sd**2 + weighted) / precision
    return Kept(mean, 1 / math.sqrt(precision), prior.rounds + count, prior.boots)


@dataclass(frozen=True, slots=True)
class BootRecord:
    """What one finished boot says about its class: kept after 24 h, and the variance of that."""

    kept: float
    variance: float


def boot_record(rounds: Sequence[Round]) -> BootRecord | None:
    """A finished boot's record; None where no round of it gives a kept fraction."""
    precision, weighted, count = _evidence(rounds)
    return BootRecord(weighted / precision, 1 / precision) if count else None


def class_kept(table_mean: float, records: Sequence[BootRecord]) -> Kept:
    """The class's kept fraction from its table value and the shop's finished boots: mean, and sd
    for a further boot.
    """
    precision = 1 / book.CLASS_MEAN_VARIANCE
    weighted = table_mean * precision
    for record in records:
        weight = 1 / (book.BETWEEN_BOOTS_VARIANCE + record.variance)
        precision += weight
        weighted += weight * record.kept
    return Kept(
        weighted / precision,
        math.sqrt(book.BETWEEN_BOOTS_VARIANCE + 1 / precision),
        boots=len(records),
    )
