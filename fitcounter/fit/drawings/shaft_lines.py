"""A boot's shaft as lines over its height, and where it is short: geometry before any pixel.

A tube of girth g, seen from the side, is g/π wide, so a shaft stands inside girth/π wide at its
height; what it is short by is drawn WIDER times its width.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from math import pi

from fitcounter.fit.assessment.profile import Profile
from fitcounter.fit.drawings.outline import PLAIN_MM, SHIN

WIDER = 2
BAND_MM = 12.0  # a height alone is drawn as a band so wide, so that it can be seen


@dataclass(frozen=True, slots=True)
class ShaftPoint:
    """One height of one boot, in mm above the heel seat. inside_mm: inside girth, None where it was
    not read.

    need_mm: what it is short by (below 0: room), None where it is not known.
    """

    height_mm: float
    inside_mm: float | None
    need_mm: float | None


@dataclass(frozen=True, slots=True)
class BootProfile:
    """One boot for the drawing. tightest_mm: height of the tightest place, None where the boot is
    wide enough.

    zip_mm: lowest and highest height of the zip, None for a boot without.
    """

    places: tuple[ShaftPoint, ...]
    tightest_mm: float | None
    zip_mm: tuple[float, float] | None = None


class ShaftLines:
    """A boot's lines over the height: front and back of the shaft, and the wanted line where it is
    short.
    """

    def __init__(self, boot: BootProfile) -> None:
        read = [
            (place.height_mm, place.inside_mm)
            for place in boot.places
            if place.inside_mm is not None
        ]
        self.inside = Profile.through(read) if read else None
        self.read = self.inside.span if self.inside else None
        self.top = max(place.height_mm for place in boot.places)
        self.runs = [] if boot.tightest_mm is None else short_runs(boot.places)
        self.need = [Profile.straight(run) for run in self.runs]
        width = max(
            self.girth(place.height_mm) + WIDER * max(place.need_mm or 0, 0)
            for place in boot.places
        )
        self.deepest = max(width / pi, 104.0)

    def girth(self, h: float) -> float:
        """Inside girth as read; beyond the readings a plain shaft of the same size."""
        if self.inside is None or self.read is None:
            return PLAIN_MM.at(h)
        low, high = self.read
        end = min(max(h, low), high)
        return self.inside.at(end) * PLAIN_MM.at(h) / PLAIN_MM.at(end)

    def back(self, h: float) -> float:
        return SHIN.at(h) - self.girth(h) / pi

    def wanted(self, h: float) -> float:
        """The wanted line's back, where the boot is short; the shaft's own elsewhere."""
        need = sum(curve.at(h) for curve in self.need if curve.span[0] <= h <= curve.span[1])
        return self.back(h) - WIDER * need / pi


def short_runs(places: Iterable[ShaftPoint]) -> list[tuple[tuple[float, float], ...]]:
    """Stretches of height over which a boot is short, as (height_mm, need_mm), straight between
    places, 0 at a crossing.

    A height alone becomes a band, so that it can be seen.
    """
    runs: list[list[tuple[float, float]]] = [[]]
    known = sorted(
        (place.height_mm, place.need_mm) for place in places if place.need_mm is not None
    )
    for below, (h, need) in zip([None, *known], known, strict=False):
        if below is not None and (below[1] > 0) != (need > 0):
            runs[-1].append((below[0] + (h - below[0]) * below[1] / (below[1] - need), 0.0))
        if need > 0:
            runs[-1].append((h, need))
        elif runs[-1]:
            runs.append([])
    return [
        tuple(run) if len(run) > 1 else ((run[0][0] - BAND_MM, run[0][1]), run[0])
        for run in runs
        if run
    ]
