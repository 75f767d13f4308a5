"""Repeat readings: one value out of several, whether they agree, and the doubt that is left.

Two readings that disagree ask for a third; disagreement asks, it never refuses. The doubt is a
standard uncertainty in the sense of JCGM 100:2008 (GUM): reading, level of the tape and resolution
added in squares.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from fractions import Fraction
from itertools import pairwise
from statistics import median

from fitcounter.fit.handbook import leg as book


def settle(readings: Sequence[Fraction]) -> Fraction:
    """The value of one or more readings: itself, the mean of two, the median of more."""
    return readings[0] if len(readings) == 1 else Fraction(median(readings))


def agree(readings: Sequence[Fraction], within_mm: float) -> bool:
    """True where some two readings lie within that distance, so that no further one is asked for;
    one alone agrees.
    """
    ordered = sorted(readings)
    return len(ordered) < 2 or min(high - low for low, high in pairwise(ordered)) <= within_mm


def resolution_mm(unit: str) -> float:
    """The finest mark of the tape a reading was typed from."""
    return book.RESOLUTION_INCH_MM if unit == "in" else book.RESOLUTION_METRIC_MM


def reading_doubt_mm(
    reading_mm: float, count: int, slope: float, level_mm: float, resolution: float
) -> float:
    """Standard uncertainty u of a girth: u² = r²/n + (slope·u_h)² + res²/12; all in mm but slope
    (mm per mm) and count.
    """
    return math.sqrt(
        reading_mm**2 / count + (slope * level_mm) ** 2 + resolution**2 / book.RESOLUTION_DIVISOR
    )
