"""What a tree measures at each setting: from readings of the bare tree, or of boots that were on
it.

A setting is turns, wedge marks or per cent on the tree, and a share of its way (0 closed, 1 open)
in here. At a height the girth runs straight from closed to open with the share; between heights as
`profile` says. Pads make it another tree. No published standard.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from typing import Literal

from fitcounter.errors import BadInput, message
from fitcounter.fit.assessment.profile import Profile
from fitcounter.fit.handbook import bench as book
from fitcounter.fit.handbook.leg import TIE


@dataclass(frozen=True, slots=True)
class Scale:
    """How a tree counts its setting. kind: what the counter reads off; closed, open: the settings
    at both ends, not the same.

    Wedge marks may run either way. Raises BadInput when both ends are the same.
    """

    kind: Literal["turns", "marks", "percent"]
    closed: float
    open: float

    def __post_init__(self) -> None:
        if self.closed == self.open:
            raise BadInput(
                message("A tree’s closed and open settings are two different figures."),
                field="open",
                typed=f"{self.open:g}",
            )

    def share(self, setting: float) -> float:
        """A setting as a share of the way, 0 closed to 1 open. Raises BadInput past either end."""
        share = (setting - self.closed) / (self.open - self.closed)
        if not 0 <= share <= 1:
            ends = f"{self.closed:g} to {self.open:g}"
            raise BadInput(
                message("This tree goes from {ends} {kind}.", ends=ends, kind=self.kind),
                field="setting",
                typed=f"{setting:g}",
            )
        return share

    def setting(self, share: float) -> float:
        """The setting at a share of the way."""
        return self.closed + share * (self.open - self.closed)


@dataclass(frozen=True, slots=True)
class CalibrationPoint:
    """One girth of a tree. share: its setting, 0-1. girth_mm: round the tree, pads included; off a
    boot, its inside girth.

    pads: which pads were on, "" for none. source: "tape" round the bare tree, or "boot": an on-tree
    reading of a round.
    """

    share: float
    height_mm: float
    girth_mm: float
    pads: str
    source: Literal["tape", "boot"]


@dataclass(frozen=True, slots=True)
class Girths:
    """A calibrated tree with one set of pads: its girth closed and open, at the same heights."""

    closed: Profile
    open: Profile

    @property
    def span(self) -> tuple[float, float]:
        """Lowest and highest height it was measured at, mm."""
        return self.closed.span

    def shifted(self, up_mm: float) -> Girths:
        """The same tree set so much higher (lower where negative): at a height it measures what it
        measured so much further down.
        """
        if not up_mm:
            return self
        return Girths(_moved(self.closed, up_mm), _moved(self.open, up_mm))

    def at(self, height_mm: float, share: float) -> float:
        """Girth in mm at a height and a share of its way.

        Raises BadInput beyond the measured heights.
        """
        closed = self.closed.at(height_mm)
        return closed + share * (self.open.at(height_mm) - closed)


def _moved(profile: Profile, up_mm: float) -> Profile:
    return replace(profile, heights_mm=tuple(height + up_mm for height in profile.heights_mm))


def girths_of(points: Iterable[CalibrationPoint], pads: str) -> Girths | None:
    """The tree as its points with these pads measure it, or None while they are too few.

    A height counts with readings at settings a fifth of the way apart, and two such heights make a
    tree. Where the tape alone is enough at a height, readings of boots there are left out;
    elsewhere all of them count, by least squares.
    """
    ends = [
        (height, line)
        for height, group in _by_height(points, pads)
        if (line := _straight(_tape_first(group)))
    ]
    if len(ends) < book.LEAST_HEIGHTS:
        return None
    closed = Profile.through((height, line[0]) for height, line in ends)
    return Girths(closed, Profile.through((height, line[1]) for height, line in ends))


def pads_of(points: Iterable[CalibrationPoint]) -> tuple[str, ...]:
    """Every set of pads there are readings with, no pads first."""
    return tuple(sorted({point.pads for point in points}))


def _by_height(
    points: Iterable[CalibrationPoint], pads: str
) -> list[tuple[float, list[CalibrationPoint]]]:
    """Points with these pads, in groups that count as one height: (mean height, points)."""
    groups: list[list[CalibrationPoint]] = []
    for point in sorted(
        (point for point in points if point.pads == pads), key=lambda point: point.height_mm
    ):
        if groups and point.height_mm - groups[-1][0].height_mm <= book.SAME_HEIGHT_MM:
            groups[-1].append(point)
        else:
            groups.append([point])
    return [(sum(point.height_mm for point in group) / len(group), group) for group in groups]


def _far_apart(points: Sequence[CalibrationPoint]) -> bool:
    """True where their settings lie far enough apart for a line through them."""
    shares = [point.share for point in points]
    return max(shares, default=0.0) - min(shares, default=0.0) >= book.LEAST_SPREAD - TIE


def _tape_first(group: list[CalibrationPoint]) -> list[CalibrationPoint]:
    """The tape's points where they are enough by themselves, otherwise all of them."""
    tape = [point for point in group if point.source == "tape"]
    return tape if _far_apart(tape) else group


def _straight(points: Sequence[CalibrationPoint]) -> tuple[float, float] | None:
    """Girth closed and open on the least-squares line, None where the settings lie too close or the
    girth does not grow.
    """
    if not _far_apart(points):
        return None
    mean_share = sum(point.share for point in points) / len(points)
    mean_girth = sum(point.girth_mm for point in points) / len(points)
    across = sum((point.share - mean_share) ** 2 for point in points)
    slope = (
        sum((point.share - mean_share) * (point.girth_mm - mean_girth) for point in points) / across
    )
    closed = mean_girth - slope * mean_share
    return (closed, closed + slope) if slope > 0 else None
