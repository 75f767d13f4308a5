"""Girth along the height of a leg or a shaft, in one datum: millimetres above the inside heel seat.

Between readings: monotone piecewise cubic (PCHIP: Fritsch-Butland slopes, SIAM J. Sci. Stat.
Comput. 5:300, 1984, with SciPy's end rule), which never goes beyond the two readings it lies
between; straight lines up to three readings, where a smooth curve errs more than a straight one.
Nothing beyond the outermost readings.
"""

from __future__ import annotations

import math
from bisect import bisect_right
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from functools import lru_cache
from itertools import pairwise

from fitcounter.errors import BadInput, message
from fitcounter.fit.handbook import leg as book

Point = tuple[float, float]


@dataclass(frozen=True, slots=True)
class Profile:
    """A curve through (height_mm, girth_mm) points.

    Made by Profile.through (or Profile.straight).
    """

    heights_mm: tuple[float, ...]
    girths_mm: tuple[float, ...]
    slopes: tuple[float, ...] | None

    @classmethod
    def through(cls, points: Iterable[Point]) -> Profile:
        """Smooth from four points on, straight lines up to three.

        Raises BadInput without points or on a height twice.
        """
        heights, girths = _sorted(points)
        slopes = pchip_slopes(heights, girths) if len(heights) > book.FEW_STATIONS else None
        return cls(heights, girths, slopes)

    @classmethod
    def straight(cls, points: Iterable[Point]) -> Profile:
        """Straight lines however many points.

        Raises BadInput without points or on a height twice.
        """
        heights, girths = _sorted(points)
        return cls(heights, girths, None)

    @property
    def rough(self) -> bool:
        """True where the page says "rough between readings": straight lines."""
        return self.slopes is None

    @property
    def span(self) -> tuple[float, float]:
        """Lowest and highest height with a reading, mm."""
        return self.heights_mm[0], self.heights_mm[-1]

    def covers(self, height_mm: float) -> bool:
        """True between the outermost readings, both included."""
        return self.heights_mm[0] - book.TIE <= height_mm <= self.heights_mm[-1] + book.TIE

    def reading_at(self, height_mm: float) -> float | None:
        """The height of the reading there, to within a float's error; None between readings."""
        place = bisect_right(self.heights_mm, height_mm)
        for height in self.heights_mm[max(0, place - 1) : place + 1]:
            if abs(height - height_mm) < book.TIE:
                return height
        return None

    def at(self, height_mm: float) -> float:
        """Girth in mm at a height. Raises BadInput beyond the outermost readings."""
        if not self.covers(height_mm):
            low, high = self.span
            raise BadInput(
                message(
                    "There is no reading at {height_mm} mm: the readings run from {low} to {high}"
                    " mm.",
                    height_mm=f"{height_mm:.0f}",
                    low=f"{low:.0f}",
                    high=f"{high:.0f}",
                )
            )
        return self._within(min(max(height_mm, self.heights_mm[0]), self.heights_mm[-1]))

    def _within(self, height_mm: float) -> float:
        """Girth at a height that is known to lie between the outermost readings."""
        heights, girths = self.heights_mm, self.girths_mm
        left = bisect_right(heights, height_mm) - 1
        if heights[left] == height_mm:
            return girths[left]
        width = heights[left + 1] - heights[left]
        t = (height_mm - heights[left]) / width
        low, high = girths[left], girths[left + 1]
        if self.slopes is None:
            return low + t * (high - low)
        rest = 1 - t
        bend_low = width * self.slopes[left] * t * rest * rest
        bend_high = width * self.slopes[left + 1] * t * t * rest
        weight_high = t * t * (1 + 2 * rest)
        return low + weight_high * (high - low) + bend_low - bend_high

    def slope_at(self, height_mm: float) -> float:
        """Change of girth per mm of height: central difference over 5 mm, clipped to the ends; 0 on
        a single reading.
        """
        below = max(self.heights_mm[0], height_mm - book.SLOPE_HALF_SPAN_MM)
        above = min(self.heights_mm[-1], height_mm + book.SLOPE_HALF_SPAN_MM)
        if above <= below:
            return 0.0
        return (self._within(above) - self._within(below)) / (above - below)


def _sorted(points: Iterable[Point]) -> tuple[tuple[float, ...], tuple[float, ...]]:
    ordered = sorted(points)
    _each_once([height for height, _ in ordered])
    heights, girths = zip(*ordered, strict=True)
    return heights, girths


def span_mm(heights_mm: Sequence[float]) -> tuple[float, float]:
    """Lowest and highest of the heights of readings, as a profile through them has it.

    Raises BadInput without heights or on a height twice.
    """
    _each_once(heights_mm)
    return min(heights_mm), max(heights_mm)


def _each_once(heights_mm: Sequence[float]) -> None:
    if not heights_mm:
        raise BadInput(
            message("There is no reading here: give at least one height with its girth.")
        )
    if len(set(heights_mm)) < len(heights_mm):
        raise BadInput(message("The same height is there twice: give each height once."))


def pchip_slopes(heights_mm: Sequence[float], girths_mm: Sequence[float]) -> tuple[float, ...]:
    """The slope at each of three points or more, so that the cubic between two of them never leaves
    their girths.
    """
    widths = [high - low for low, high in pairwise(heights_mm)]
    secants = [
        (high - low) / width for (low, high), width in zip(pairwise(girths_mm), widths, strict=True)
    ]
    inner = [_inner_slope(*w, *s) for w, s in zip(pairwise(widths), pairwise(secants), strict=True)]
    first = _end_slope(widths[0], widths[1], secants[0], secants[1])
    last = _end_slope(widths[-1], widths[-2], secants[-1], secants[-2])
    return (first, *inner, last)


def _inner_slope(
    width_low: float, width_high: float, secant_low: float, secant_high: float
) -> float:
    """Weighted harmonic mean of the neighbouring secants; flat where they turn."""
    if secant_low * secant_high <= 0:
        return 0.0
    weight_low, weight_high = 2 * width_high + width_low, width_high + 2 * width_low
    return (weight_low + weight_high) / (weight_low / secant_low + weight_high / secant_high)


def _end_slope(width: float, next_width: float, secant: float, next_secant: float) -> float:
    """One-sided three-point slope, kept from turning against or far past the first secant."""
    slope = ((2 * width + next_width) * secant - width * next_secant) / (width + next_width)
    if slope * secant <= 0:
        return 0.0
    if secant * next_secant <= 0 and abs(slope) > book.END_SLOPE_CAP * abs(secant):
        return book.END_SLOPE_CAP * secant
    return slope


@lru_cache(maxsize=64)  # every reading of a leg asks for the same one
def heel_drop_mm(rise_mm: float) -> float:
    """How far the leg's heights sink in a boot of heel rise R (mm, 0 up to the seat-to-ball length
    of 140).

    The foot pitches about the ball: Δ = z(1 − cos θ) + x·sin θ, θ = asin(R/L). Raises BadInput
    beyond the range.
    """
    if not 0 <= rise_mm <= book.PITCH_LENGTH_MM:
        raise BadInput(
            message(
                "A heel rise lies between 0 and {pitch_length_mm} mm.",
                pitch_length_mm=f"{book.PITCH_LENGTH_MM:.0f}",
            ),
            typed=str(rise_mm),
            field="rise_mm",
        )
    theta = math.asin(rise_mm / book.PITCH_LENGTH_MM)
    return book.PITCH_ANKLE_UP_MM * (1 - math.cos(theta)) + book.PITCH_ANKLE_FORWARD_MM * math.sin(
        theta
    )


def inside_girth_mm(reading_mm: float, method: str, wall_mm: float) -> float:
    """Inside girth from a reading taken "inside", "outside" or "flat" (a width) on a wall of upper
    and lining, mm.
    """
    if method == "outside":
        return reading_mm - 2 * math.pi * wall_mm
    if method == "flat":
        return book.FLAT_FACTOR * reading_mm - book.WALLS_FLAT * wall_mm
    return reading_mm


def shared_span(first: tuple[float, float], second: tuple[float, float]) -> tuple[float, float]:
    """The lowest and the highest height, mm, that two spans share.

    Raises BadInput where they share none.
    """
    low, high = max(first[0], second[0]), min(first[1], second[1])
    if low > high + book.TIE:
        raise BadInput(message("Leg and boot share no height: read both over the same heights."))
    return low, max(low, high)


def shared_heights(first: Profile, second: Profile) -> list[float]:
    """The heights two profiles are compared at: every 5 mm up from the lowest they share, and every
    reading's height.

    Raises BadInput where they share none.
    """
    low, high = shared_span(first.span, second.span)
    steps = math.floor((high - low) / book.HEIGHT_STEP_MM + book.TIE)
    ladder = [min(low + step * book.HEIGHT_STEP_MM, high) for step in range(steps + 1)]
    stations = [
        height
        for profile in (first, second)
        for height in profile.heights_mm
        if low - book.TIE <= height <= high + book.TIE
    ]
    return _without_twins(stations, ladder)


def _without_twins(stations: Iterable[float], ladder: Iterable[float]) -> list[float]:
    """Sorted heights; of two stations that only a float's error parts the lower one, and a step of
    the ladder gives way to a station.
    """
    heights: list[float] = []
    for station in sorted(stations):
        if not heights or station - heights[-1] >= book.TIE:
            heights.append(station)
    kept = [step for step in ladder if not _near(heights, step)]
    return sorted(heights + kept)


def _near(heights: Sequence[float], height_mm: float) -> bool:
    place = bisect_right(heights, height_mm)
    return any(
        abs(height - height_mm) < book.TIE for height in heights[max(0, place - 1) : place + 1]
    )
