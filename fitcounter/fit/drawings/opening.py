"""What a tree would do along a shaft, as SVG paths: its opening, what would stay of it, and what is
needed. Pure geometry.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from fitcounter.errors import message
from fitcounter.fit.drawings.outline import num
from fitcounter.fit.tape import say_height, say_length
from fitcounter.fit.trees.limits import AtHeight

WIDTH_PX, HEIGHT_PX, EDGE_PX = 240.0, 200.0, 10.0


@dataclass(frozen=True, slots=True)
class OpeningDrawing:
    """Paths over heights from the lowest (bottom) to the highest (top): opening and gain from the
    left edge; description in words.
    """

    width_px: float
    height_px: float
    axis: str
    opening: str
    gain: str
    need: str
    description: str


def opening_drawing(
    heights: Sequence[AtHeight], most_mm: float, unit: str
) -> OpeningDrawing | None:
    """heights: as `trees` gives them, lowest first.

    most_mm: the widest opening of all drawings on the page, so that they compare.
    """
    if len(heights) < 2 or most_mm <= 0:
        return None
    low, high = heights[0].height_mm, heights[-1].height_mm

    def at(mm: float, height_mm: float) -> str:
        x = EDGE_PX + mm / most_mm * (WIDTH_PX - 2 * EDGE_PX)
        y = EDGE_PX + (high - height_mm) / (high - low) * (HEIGHT_PX - 2 * EDGE_PX)
        return f"{num(x)} {num(y)}"

    def line(points: Sequence[tuple[float, float]]) -> str:
        return "M" + "L".join(at(mm, height) for mm, height in points) if len(points) > 1 else ""

    needed = [
        (one.gain_mm - one.looseness_mm, one.height_mm)
        for one in heights
        if one.looseness_mm is not None
    ]
    widest = max(heights, key=lambda one: one.opening_mm)
    words = message(
        "Opens {most} at {height}; {lowest} at the lowest height, {highest} at the highest.",
        most=say_length(widest.opening_mm, unit),
        height=say_height(widest.height_mm, unit),
        lowest=say_length(heights[0].opening_mm, unit),
        highest=say_length(heights[-1].opening_mm, unit),
    )
    return OpeningDrawing(
        WIDTH_PX,
        HEIGHT_PX,
        f"M{at(0, low)}L{at(0, high)}",
        line([(one.opening_mm, one.height_mm) for one in heights]),
        line([(one.gain_mm, one.height_mm) for one in heights]),
        line([(max(0.0, mm), height) for mm, height in needed]),
        words,
    )
