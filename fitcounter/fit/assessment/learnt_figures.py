"""What a shop's own boots teach beside the kept fraction: a spread, a mean change, a share, each
with its number and its interval of 95 in 100.

Intervals: chi-square by Wilson and Hilferty (1931), Student's t by its first Cornish-Fisher term,
shares by Wilson (1927). Nothing here is used in an answer.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from statistics import NormalDist, fmean, stdev

from fitcounter.fit.handbook import rounds as book

_Z = NormalDist().inv_cdf(1 - (1 - book.INTERVAL_HOLDS) / 2)


@dataclass(frozen=True, slots=True)
class ShopFigure:
    """A value with the interval that holds it 95 times in 100, and how many cases it stands on."""

    value: float
    low: float
    high: float
    number: int

    @property
    def counts(self) -> bool:
        """True where there are enough cases to be shown as a figure."""
        return self.number >= book.CASES_TO_TELL


def tape_error_mm(differences_mm: Sequence[float]) -> ShopFigure | None:
    """Standard deviation in mm of one reading, from pairs of readings of the same girth: √(Σd²/2N).

    differences_mm: of each pair. None without one.
    """
    number = len(differences_mm)
    if not number:
        return None
    sigma = math.sqrt(sum(each * each for each in differences_mm) / (2 * number))
    low, high = (sigma * math.sqrt(number / _chi_square(number, z)) for z in (_Z, -_Z))
    return ShopFigure(sigma, low, high, number)


def mean_change_mm(changes_mm: Sequence[float]) -> ShopFigure | None:
    """Mean of changes in mm; None with fewer than two, whose spread nobody knows."""
    number = len(changes_mm)
    if number < 2:
        return None
    mean = fmean(changes_mm)
    t = _Z + (_Z**3 + _Z) / (4 * (number - 1))
    half = t * stdev(changes_mm) / math.sqrt(number)
    return ShopFigure(mean, mean - half, mean + half, number)


def share(hits: int, number: int) -> ShopFigure | None:
    """The share of so many cases of a number; None of none."""
    if not number:
        return None
    found, z2 = hits / number, _Z * _Z
    middle = (found + z2 / (2 * number)) / (1 + z2 / number)
    half = _Z / (1 + z2 / number)
    half *= math.sqrt(found * (1 - found) / number + z2 / (4 * number * number))
    return ShopFigure(found, max(0.0, middle - half), min(1.0, middle + half), number)


def _chi_square(degrees: int, z: float) -> float:
    """The quantile of chi-square that stands where z does in the normal distribution."""
    part = 2 / (9 * degrees)
    return float(degrees * max(part, 1 - part + z * math.sqrt(part)) ** 3)
