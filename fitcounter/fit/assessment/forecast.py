"""How far the next go on the tree may open, how many there will be, and how far they reach.

The number of further rounds is a distribution over 99 quantiles of the kept fraction and 5 of the
need. All lengths are mm of girth, holds are hours.
"""

from __future__ import annotations

import math
from bisect import bisect_left
from dataclasses import dataclass
from functools import cache
from statistics import NormalDist

from fitcounter.fit.assessment.kept import Keeping, Kept
from fitcounter.fit.assessment.shaft import leather_now_mm
from fitcounter.fit.handbook import rounds as book
from fitcounter.fit.handbook.leather import LEAST_LEATHER_MM
from fitcounter.fit.handbook.leg import TIE, TOLERANCE_MM


@dataclass(frozen=True, slots=True)
class Running:
    """A round that is on the tree now.

    opening_mm of girth, above 0; hold_h: the hold it is meant to have.
    """

    opening_mm: float
    hold_h: float
    dry: bool


@dataclass(frozen=True, slots=True)
class Stand:
    """Where a boot stands at its tightest place.

    first_mm, leather_mm: girth and leather part as first brought in; girth_mm: now; need_mm,
    need_u_mm: short by, and its standard uncertainty; round_strain, ceiling_strain: limits;
    zip_strain (None: no zip there) and seam_strain: where the load says hold here; tree_mm: the
    tree's largest girth, if known; kept: corrected; hold_h: of rounds to come; lived: rounds of the
    boot's life, a running one included; running: that one.
    """

    first_mm: float
    leather_mm: float
    girth_mm: float
    need_mm: float
    need_u_mm: float
    round_strain: float
    ceiling_strain: float
    zip_strain: float | None
    seam_strain: float
    tree_mm: float | None
    kept: Kept
    hold_h: float
    lived: int = 0
    running: Running | None = None

    def leather_at(self, girth_mm: float) -> float:
        """Leather part when the boot's girth is this."""
        return leather_now_mm(self.leather_mm, self.first_mm, girth_mm)

    def keepings(self, rounds: int) -> tuple[Keeping, ...]:
        """How each of so many further rounds keeps; a running round is the first of them, with its
        own hold.
        """
        running = (
            ()
            if self.running is None
            else (Keeping.of(self.running.hold_h, self.running.dry, self.lived),)
        )
        ahead = range(self.lived + 1, self.lived + 1 + rounds - len(running))
        return (*running, *(Keeping.of(self.hold_h, False, number) for number in ahead))

    def bounds(self, girth_mm: float) -> dict[str, float]:
        """The girths that limit an opening from girth_mm, whatever the need, in the order that
        decides ties.
        """
        leather = self.leather_at(girth_mm)
        bounds = {
            "round": girth_mm + self.round_strain * leather,
            "ceiling": self.first_mm + self.ceiling_strain * self.leather_mm,
        }
        if self.zip_strain is not None:
            bounds["zip"] = girth_mm + self.zip_strain * leather
        bounds["seam"] = girth_mm + self.seam_strain * leather
        if self.tree_mm is not None:
            bounds["tree"] = self.tree_mm
        return bounds


@dataclass(frozen=True, slots=True)
class Opening:
    """The next opening.

    girth_mm: on the tree; limited_by: round, ceiling, zip, seam, need, tree or running.
    """

    girth_mm: float
    opening_mm: float
    limited_by: str
    kept: float

    @property
    def expected_gain_mm(self) -> float:
        return self.kept * self.opening_mm


ORDER = ("round", "ceiling", "zip", "seam", "need", "tree")


def next_opening(stand: Stand) -> Opening:
    """How far the next round opens; a running one is taken as it was opened."""
    kept = stand.keepings(1)[0].kept(stand.kept.mean)
    if stand.running is not None:
        return Opening(
            stand.girth_mm + stand.running.opening_mm, stand.running.opening_mm, "running", kept
        )
    bounds = stand.bounds(stand.girth_mm)
    bounds["need"] = stand.girth_mm + max(0.0, stand.need_mm - TOLERANCE_MM / 2) / kept
    least = min(bounds.values())
    limited_by = next(name for name in ORDER if name in bounds and bounds[name] <= least + TIE)
    girth = max(stand.girth_mm, least)
    return Opening(girth, girth - stand.girth_mm, limited_by, kept)


@dataclass(frozen=True, slots=True)
class Climb:
    """What growth depends on besides first opening and kept fraction, reckoned once for a stand;
    the need is left aside.

    leather_mm: leather part now; strain: the smallest limit of one round; room_mm: from the girth
    now to ceiling and tree.
    """

    leather_mm: float
    strain: float
    room_mm: float
    keepings: tuple[Keeping, ...]

    @classmethod
    def of(cls, stand: Stand, rounds: int) -> Climb:
        strains = [
            strain
            for strain in (stand.round_strain, stand.zip_strain, stand.seam_strain)
            if strain is not None
        ]
        ceiling = stand.first_mm + stand.ceiling_strain * stand.leather_mm
        most = ceiling if stand.tree_mm is None else min(ceiling, stand.tree_mm)
        leather = stand.leather_mm + stand.girth_mm - stand.first_mm
        return cls(leather, min(strains), most - stand.girth_mm, stand.keepings(rounds))

    def opening(self, grown_mm: float) -> float:
        """How far the next round may open once the boot has grown so much."""
        leather = max(LEAST_LEATHER_MM, self.leather_mm + grown_mm)
        return max(0.0, min(self.strain * leather, self.room_mm - grown_mm))

    def growths(self, first_mm: float, kept_24h: float, enough_mm: float = math.inf) -> list[float]:
        """Growth after 1, 2 … rounds, up to the first that is enough: a first opening as given,
        then as the limits let.
        """
        growths: list[float] = []
        grown, opening = 0.0, first_mm
        for keeping in self.keepings:
            grown += keeping.kept(kept_24h) * opening
            growths.append(grown)
            if grown >= enough_mm:
                break
            opening = self.opening(grown)
        return growths


def reach_mm(stand: Stand, rounds: int) -> list[float]:
    """Expected growth from now after 1 … rounds further rounds if each opens as far as it may."""
    climb = Climb.of(stand, rounds)
    first = stand.running.opening_mm if stand.running is not None else climb.opening(0.0)
    return climb.growths(first, stand.kept.mean)


@dataclass(frozen=True, slots=True)
class Odds:
    """How many further rounds: counts of 0 … 6 rounds and of more, out of all quantiles."""

    counts: tuple[int, ...]

    @property
    def total(self) -> int:
        return sum(self.counts)

    @property
    def shares(self) -> tuple[float, ...]:
        """Probability of 0 … 6 rounds and of more."""
        return tuple(count / self.total for count in self.counts)

    def within(self, rounds: int) -> float:
        """Probability of done within that many further rounds (0 … 6)."""
        return sum(self.counts[: rounds + 1]) / self.total

    @property
    def likely(self) -> int | None:
        """The most probable number, the smallest on a tie; None where more than 6 is."""
        number = self.counts.index(max(self.counts))
        return number if number <= book.MOST_ROUNDS else None

    @property
    def eight_in_ten(self) -> int | None:
        """The smallest number that is enough in eight cases of ten; None beyond 6."""
        return next(
            (n for n in range(book.MOST_ROUNDS + 1) if self.within(n) >= book.EIGHT_IN_TEN), None
        )


def odds(stand: Stand, opening: Opening) -> Odds:
    """The distribution of further rounds until what is left to need is within tolerance.

    Each quantile opens first as the mean does, then by its own kept fraction and its own remaining
    need. An opening that the need limits ends at half a tolerance short, which is done: so a
    quantile is done with the first round whose growth, the need left aside, is within tolerance of
    it, and one run serves all needs; growths never fall, so bisection finds it.
    """
    wanted = [
        _enough_mm(stand.need_mm + stand.need_u_mm * step)
        for step in normal_quantiles(book.NEED_QUANTILES)
    ]
    climb = Climb.of(stand, book.MOST_ROUNDS)
    counts = [0] * (book.MOST_ROUNDS + 2)
    for step in normal_quantiles(book.KEPT_QUANTILES):
        growths = climb.growths(
            opening.opening_mm, stand.kept.mean + stand.kept.sd * step, max(wanted)
        )
        for enough in wanted:
            counts[bisect_left(growths, enough) + 1 if enough > 0 else 0] += 1
    return Odds(tuple(counts))


def _enough_mm(need_mm: float) -> float:
    """The growth that brings a need within tolerance; not above 0 where it already is."""
    return need_mm - TOLERANCE_MM - TIE


@cache
def normal_quantiles(number: int) -> tuple[float, ...]:
    """Standard normal quantiles at (j + ½)/number."""
    return tuple(NormalDist().inv_cdf((step + 0.5) / number) for step in range(number))
