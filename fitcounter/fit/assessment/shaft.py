"""The shaft as a sleeve: the part of its girth that is leather, how far that is strained, and what
pulls on zip and seams.

Stress on an assumed curve, σ(e) = A(exp(Be) − 1), fixed at 10 MPa; tension adds over upper and
leather lining; thin-wall formula p = T/r. Estimates: they ask for a look and limit an opening, they
are no promise.
"""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass

from fitcounter.fit.handbook import load as book
from fitcounter.fit.handbook.leather import LEAST_LEATHER_MM
from fitcounter.fit.handbook.leg import TIE


@dataclass(frozen=True, slots=True)
class Strip:
    """Something in the shaft that does not grow.

    width_mm of girth, between two heights above the heel seat, ends included.
    """

    name: str
    width_mm: float
    from_mm: float
    to_mm: float

    def spans(self, height_mm: float) -> bool:
        return self.from_mm - TIE <= height_mm <= self.to_mm + TIE


@dataclass(frozen=True, slots=True)
class Layer:
    """A layer that carries tension. thickness_mm > 0; strain_10mpa: its strain at 10 MPa, > 0."""

    thickness_mm: float
    strain_10mpa: float

    @property
    def stiffening(self) -> float:
        """B of the curve: how fast stress climbs with strain."""
        return math.log1p(book.CURVE_POINT_MPA / book.CURVE_MPA) / self.strain_10mpa

    def stress_mpa(self, strain: float) -> float:
        return book.CURVE_MPA * math.expm1(min(self.stiffening * strain, book.CURVE_EXPONENT_MOST))


def layers(
    thickness_mm: float, strain_10mpa: float, lining: str, lining_mm: float
) -> tuple[Layer, ...]:
    """Upper, and lining where it is leather; cloth adds nothing that lasts."""
    upper = Layer(thickness_mm, strain_10mpa)
    if lining == "leather" and lining_mm > 0:
        return upper, Layer(lining_mm, book.LINING_STRAIN_10MPA)
    return (upper,)


def leather_part_mm(girth_mm: float, height_mm: float, strips: Iterable[Strip]) -> float:
    """Inside girth less all that does not grow at that height; never under 1 mm, so that a strain
    is always a number.
    """
    rigid = sum(strip.width_mm for strip in strips if strip.spans(height_mm))
    return max(LEAST_LEATHER_MM, girth_mm - rigid)


def leather_now_mm(leather_first_mm: float, girth_first_mm: float, girth_mm: float) -> float:
    """The leather part after the shaft has grown from its first girth to this one: only leather
    grows.
    """
    return max(LEAST_LEATHER_MM, leather_first_mm + girth_mm - girth_first_mm)


def tension_n_per_mm(strain: float, wall: Iterable[Layer]) -> float:
    """Pull along the girth per mm of height at a strain."""
    return sum(layer.stress_mpa(strain) * layer.thickness_mm for layer in wall)


def strain_at_tension(tension: float, wall: tuple[Layer, ...]) -> float:
    """The strain at which the wall pulls that hard (N/mm, above 0): the inverse of
    tension_n_per_mm.

    Newton's method from above on a rising, convex curve, which cannot overshoot.
    """
    upper = wall[0]
    strain = math.log1p(tension / (book.CURVE_MPA * upper.thickness_mm)) / upper.stiffening
    while True:
        slope = sum(
            layer.thickness_mm * layer.stiffening * (layer.stress_mpa(strain) + book.CURVE_MPA)
            for layer in wall
        )
        step = (tension_n_per_mm(strain, wall) - tension) / slope
        strain -= step
        if step < book.SOLVED_WITHIN:
            return strain


def zip_strength_n_per_mm(lateral_n_per_25mm: float) -> float:
    """Lateral strength of a zip per mm of its length, from a test on a 25 mm jaw."""
    return lateral_n_per_25mm / book.ZIP_JAW_MM


def load_word(tension: float, strength: float, watch: float, hold: float) -> str:
    """ "ok", "watch" or "hold" for a pull on something of that strength (both N/mm); watch and hold
    are shares of it.
    """
    share = tension / strength
    if share > hold + TIE:
        return "hold"
    return "watch" if share > watch + TIE else "ok"
