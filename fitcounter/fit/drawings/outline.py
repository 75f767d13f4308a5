"""The drawn boot: curves as SVG path text, and the artwork of foot, heel and plain shaft. Nothing
here is a figure.

Millimetres: x forward from the line of the heel seat's front edge, h up from the heel seat. A Pen
turns them into pixels, with the toe to the right (1) or to the left (-1).
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass

from fitcounter.fit.assessment.profile import Profile

# The front of a tall boot, and a shaft of everyday proportions for heights that nobody read.
SHIN = Profile.through(
    [(0, 0), (114, 0), (165, 4), (230, 9), (300, 11), (370, 10), (420, 10), (470, 13), (700, 20)]
)
PLAIN_MM = Profile.through(
    [(0, 246), (112, 246), (165, 262), (230, 304), (300, 346), (350, 362), (400, 360), (700, 420)]
)
ANKLE_MM = 112.0  # where the shaft runs into the foot
GROUND_MM = -36.0
TOE_MM = 166.0
_FOOT = (
    (1, 88, 14, 68, 46, 54), (80, 39, 122, 30, 147, 7), (160, -5, 165, -20, 157, -25),
    (122, -31, 92, -31, 62, -22), (36, -13, 12, -6, -30, -4), (-60, -3, -80, -3, -95, -3),
)  # fmt: skip
_SOLE = (
    (122, -31, 92, -31, 62, -22),
    (36, -13, 12, -6, -30, -4),
    (-60, -3, -80, -3, -95, -3),
    (-96, -5, -96, -6, -96, -8),
    (-70, -8, -50, -8, -30, -9),
    (8, -11, 32, -19, 60, -28),
    (90, -37, 122, -37, 156, -32),
    (163, -31, 165, -24, 163, -17),
    (162, -20, 160, -23, 157, -25),
)
_HEEL = (
    (-70, -8, -50, -8, -37, -9),
    (-40, -18, -43, -27, -43, -36),
    (-60, -36, -80, -36, -91, -36),
    (-92, -26, -95, -16, -96, -8),
)
_VAMP = ((-16, 84, 2, 44, 32, -8),)

Point = tuple[float, float]
Line = Callable[[float], float]


def num(value: float) -> str:
    """A pixel with at most one decimal: 12, 12.5."""
    text = f"{value:.1f}".removesuffix(".0")
    return "0" if text == "-0" else text


def smooth(points: Sequence[Point]) -> str:
    """A path through the points, as cubic curves (Catmull-Rom). Empty for fewer than two points."""
    if len(points) < 2:
        return ""
    path = f"M{num(points[0][0])} {num(points[0][1])}"
    for i in range(len(points) - 1):
        before, here, there, after = (
            points[max(i - 1, 0)],
            points[i],
            points[i + 1],
            points[min(i + 2, len(points) - 1)],
        )
        near = (here[0] + (there[0] - before[0]) / 6, here[1] + (there[1] - before[1]) / 6)
        far = (there[0] - (after[0] - here[0]) / 6, there[1] - (after[1] - here[1]) / 6)
        path += "C" + " ".join(num(value) for value in (*near, *far, *there))
    return path


def steps(low: float, high: float, step: float = 10.0) -> list[float]:
    """Heights from low to high, ends included, about a step apart."""
    count = max(1, round((high - low) / step))
    return [low + (high - low) * i / count for i in range(count + 1)]


@dataclass(frozen=True, slots=True)
class Pen:
    """Places one boot on the page.

    x, y: pixels of the origin; scale: pixels per mm; toe: 1 right, -1 left.
    """

    x: float
    y: float
    scale: float
    toe: int

    def at(self, x_mm: float, h_mm: float) -> Point:
        return self.x + self.toe * x_mm * self.scale, self.y - h_mm * self.scale

    def along(self, line: Line, low: float, high: float) -> str:
        """The curve of a line x(h) from low to high; empty where hardly a line's breadth lies
        between.
        """
        return smooth([self.at(line(h), h) for h in steps(low, high)]) if high - low > 4 else ""

    def stroke(self, *points: Point) -> str:
        """A straight line through points in mm."""
        return "M" + "L".join(
            f"{num(x)} {num(y)}" for x, y in (self.at(*point) for point in points)
        )

    def curves(self, start: Point, *segments: tuple[float, ...]) -> str:
        """Cubic curves from a start, each segment as six numbers in mm."""
        x, y = self.at(*start)
        return f"M{num(x)} {num(y)}" + self.onward(*segments)

    def onward(self, *segments: tuple[float, ...]) -> str:
        pixels = [
            [value for i in (0, 2, 4) for value in self.at(one[i], one[i + 1])] for one in segments
        ]
        return "".join("C" + " ".join(map(num, one)) for one in pixels)

    def foot(self, back: Line) -> str:
        """From the shin over toe and sole to the counter, where the shaft's back begins.

        Starts at the ankle in front.
        """
        return self.curves((SHIN.at(ANKLE_MM), ANKLE_MM), *_FOOT, self._counter(back))

    def body(self, back: Line, top: float) -> str:
        """The whole silhouette, to be filled."""
        up = smooth([self.at(back(h), h) for h in steps(ANKLE_MM, top)])
        down = smooth([self.at(SHIN.at(h), h) for h in reversed(steps(ANKLE_MM, top))])
        return (
            up
            + self.onward(self._top_line(back, top))
            + "L"
            + down[1:]
            + self.onward(*_FOOT, self._counter(back))
            + "Z"
        )

    def top_line(self, back: Line, top: float) -> str:
        return self.curves((back(top), top), self._top_line(back, top))

    def top_stitch(self, back: Line, top: float) -> str:
        return self.curves((back(top - 7), top - 7), self._top_line(back, top - 7))

    def sole(self) -> str:
        return self.curves((157, -25), *_SOLE) + "Z"

    def heel(self) -> str:
        return self.curves((-96, -8), *_HEEL) + "Z"

    def vamp(self) -> str:
        return self.curves((-2, 110), *_VAMP)

    def _top_line(self, back: Line, top: float) -> tuple[float, ...]:
        front = SHIN.at(top)
        return (back(top) + 30, top + 2.5, front - 45, top - 8, front, top - 0.5)

    def _counter(self, back: Line) -> tuple[float, ...]:
        start = back(ANKLE_MM)
        slope = (back(ANKLE_MM + 6) - start) / 6 * 0.7  # so that the counter runs on from the shaft
        return (-103, 20, start - slope * 34, ANKLE_MM - 34, start, ANKLE_MM)
