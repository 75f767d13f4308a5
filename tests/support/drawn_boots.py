"""Boots as they are drawn: six heights, their girths, one boot short and one wide enough."""

from __future__ import annotations

from fitcounter.fit.drawings.pair import BootDrawing, Drawing, profile_drawing
from fitcounter.fit.drawings.shaft_lines import BootProfile, ShaftPoint

HEIGHTS = (114.3, 165.1, 215.9, 266.7, 317.5, 368.3)
INSIDE = (266.7, 301.6, 336.6, 365.1, 387.4, 381.0)


def boot(
    *needs: float, tightest: float | None, inside: tuple[float | None, ...] = INSIDE
) -> BootProfile:
    return BootProfile(
        tuple(ShaftPoint(h, g, n) for h, g, n in zip(HEIGHTS, inside, needs, strict=True)),
        tightest,
        (60, 350),
    )


SHORT = boot(-22, -22, 3.2, 28.575, 25.4, 3.2, tightest=266.7)
WIDE = boot(-22, -22, -9, -8, -7, -6, tightest=None)


def pair(
    left: BootProfile, right: BootProfile, unit: str = "in"
) -> tuple[Drawing, BootDrawing, BootDrawing]:
    drawing = profile_drawing(left, right, unit=unit, marks=HEIGHTS)
    return drawing, drawing.boots[0], drawing.boots[1]
