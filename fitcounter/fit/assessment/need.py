"""How much a boot is short by at each height, and how sure that is: from leg and boot, from the gap
at the zip, or as asked.

Readings are settled first, then allowances, then brought to one datum (millimetres above the inside
heel seat), then compared over the heights that both sides of the comparison share.
"""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import NamedTuple

from fitcounter.errors import BadInput
from fitcounter.fit.assessment import legs
from fitcounter.fit.assessment.heel_seat_heights import (
    boot_span_mm,
    leg_heights_mm,
    shaft_points,
)
from fitcounter.fit.assessment.job import Asked, Ease, Job, Reading, Side
from fitcounter.fit.assessment.profile import (
    Point,
    Profile,
    shared_heights,
    shared_span,
    span_mm,
)
from fitcounter.fit.assessment.read_span import TargetMark, span_notes
from fitcounter.fit.assessment.shaft import leather_part_mm
from fitcounter.fit.handbook import leg as book
from fitcounter.fit.repeats import reading_doubt_mm, resolution_mm


@dataclass(frozen=True, slots=True)
class Curve:
    """A profile that knows how it was read.

    counts, resolutions_mm: by the height of each reading.
    """

    profile: Profile
    reading_mm: float
    level_mm: float
    counts: Mapping[float, int]
    resolutions_mm: Mapping[float, float]
    stations: Mapping[float, str]

    def doubt_mm(self, height_mm: float) -> float:
        """Standard uncertainty of the girth there.

        Between readings it counts as read once, with the coarsest tape used.
        """
        read = self.profile.reading_at(height_mm)
        count = 1 if read is None else self.counts[read]
        marks = self.resolutions_mm
        resolution = max(marks.values()) if read is None else marks[read]
        slope = self.profile.slope_at(height_mm)
        return reading_doubt_mm(self.reading_mm, count, slope, self.level_mm, resolution)

    def station_at(self, height_mm: float) -> str | None:
        read = self.profile.reading_at(height_mm)
        return None if read is None else self.stations.get(read)


class Place(NamedTuple):
    """One height of a boot as first brought in.

    leg_mm: with allowances, without ease; None where no leg was read.
    """

    height_mm: float
    station: str | None
    leg_mm: float | None
    girth_mm: float
    leather_mm: float
    need_mm: float
    need_u_mm: float

    def needing(self, more_mm: float) -> Place:
        """The same height, short by so much more (less where negative)."""
        return self._replace(need_mm=self.need_mm + more_mm)


def leg_curve(job: Job, side: Side) -> Curve | None:
    """The leg in the boot's datum, allowances included; None where no leg was read."""
    if not side.leg:
        return None
    level_mm = book.LEVEL_MARKED_MM if job.leg.marked else book.LEVEL_FOUND_MM
    return _curve(_leg_points(job, side), side.leg, book.LEG_READING_MM, level_mm, 1)


def _leg_points(job: Job, side: Side) -> list[Point]:
    terms = job.leg.posture, job.leg.time, job.leg.layer_mm
    girths = [legs.allowed_girth_mm(reading.girth_mm, *terms) for reading in side.leg]
    return list(zip(leg_heights_mm(job, side), girths, strict=True))


def shaft_curve(side: Side) -> Curve:
    """The boot's inside girth as first brought in.

    Raises BadInput where a height or a wall cannot be.
    """
    factor = book.FLAT_FACTOR if side.boot.method == "flat" else 1
    return _curve(
        shaft_points(side), side.shaft, factor * book.BOOT_READING_MM, book.LEVEL_MARKED_MM, factor
    )


def _curve(
    points: Sequence[Point],
    read: Sequence[Reading],
    reading_mm: float,
    level_mm: float,
    factor: int,
) -> Curve:
    """points: of the readings, in their order."""
    by_height = [(height, reading) for (height, _), reading in zip(points, read, strict=True)]
    return Curve(
        Profile.through(points),
        reading_mm,
        level_mm,
        {height: len(reading.girths) for height, reading in by_height},
        {
            height: factor * max(resolution_mm(typed.unit) for typed in reading.girths)
            for height, reading in by_height
        },
        {height: reading.station for height, reading in by_height if reading.station},
    )


def places(job: Job, side: Side) -> list[Place]:
    """Every evaluated height of one side, lowest first.

    Raises BadInput where leg (gaps, amounts) and boot share none, or the boot was not read far
    enough.
    """
    curves = _curves(job, side)
    return [
        _place(height, side, job.ease, curves)
        for height in shared_heights(curves[2], curves[0].profile)
    ]


def check_places(job: Job, side: Side) -> None:
    """Raises BadInput where places would, without reckoning one: what can fail are the heights, and
    the girths inside the wall.
    """
    boot_mm = boot_span_mm(side)
    leg_mm = span_mm(leg_heights_mm(job, side)) if side.leg else None
    span_of(job, side, boot_mm)
    _meet(side, boot_mm, leg_mm if side.target == "leg" and leg_mm else _asked(side).span)


def span_of(job: Job, side: Side, boot_mm: tuple[float, float]) -> tuple[str, ...]:
    """The notes of what was read outside the boot's own readings.

    boot_mm: lowest and highest of those, above the heel seat. Raises BadInput where the boot was
    not read far enough.
    """
    if side.target == "leg":
        heights = leg_heights_mm(job, side)
        marks = [TargetMark(mm, read.height) for mm, read in zip(heights, side.leg, strict=True)]
    else:
        marks = [TargetMark(entry.height.float_mm, entry.height) for entry in _entries(side)]
    return span_notes(side, marks, boot_mm, job.unit)


# The boot, the leg where it was read, and what is wanted over the heights: the leg's own profile,
# gaps or amounts.
_Curves = tuple[Curve, Curve | None, Profile]


def _curves(job: Job, side: Side) -> _Curves:
    shaft, leg = shaft_curve(side), leg_curve(job, side)
    wanted = leg.profile if side.target == "leg" and leg is not None else _asked(side)
    span_of(job, side, shaft.profile.span)
    _meet(side, shaft.profile.span, wanted.span)
    return shaft, leg, wanted


def _asked(side: Side) -> Profile:
    """The gaps, or the amounts asked for, over the heights."""
    return Profile.straight((entry.height.float_mm, entry.amount_mm) for entry in _entries(side))


def _entries(side: Side) -> tuple[Asked, ...]:
    """The gaps or amounts that are the side's target."""
    return side.gaps if side.target == "gap" else side.amounts


def _meet(side: Side, boot_mm: tuple[float, float], wanted_mm: tuple[float, float]) -> None:
    """The lowest and highest heights of both. Raises BadInput where they share none."""
    try:
        shared_span(wanted_mm, boot_mm)
    except BadInput as error:
        sentence = (
            f"{side.name}.boot: shares no height with its {side.target}; read both over the same"
            " heights."
        )
        raise BadInput(sentence, field=f"{side.name}.boot") from error


def _place(height: float, side: Side, ease: Ease, curves: _Curves) -> Place:
    shaft, leg, wanted = curves
    girth = shaft.profile.at(height)
    leg_mm = leg.profile.at(height) if leg and leg.profile.covers(height) else None
    station = leg.station_at(height) if leg else None
    if side.target == "leg" and leg is not None and leg_mm is not None:
        need = with_ease_mm(leg_mm, ease) - girth
        doubt = math.hypot(leg.doubt_mm(height), shaft.doubt_mm(height))
    else:
        need = wanted.at(height)
        doubt = _gap_doubt_mm(side, height) if side.target == "gap" else 0.0
    return Place(
        height,
        station,
        leg_mm,
        girth,
        leather_part_mm(girth, height, side.boot.strips),
        need,
        doubt,
    )


def _gap_doubt_mm(side: Side, height_mm: float) -> float:
    """Standard uncertainty of the gap there: r/√n where it was read n times; between readings it
    counts as read once.
    """
    times = next(
        (len(gap.readings) for gap in side.gaps if abs(gap.height.float_mm - height_mm) < book.TIE),
        1,
    )
    return book.GAP_READING_MM / math.sqrt(times)


def with_ease_mm(leg_mm: float, ease: Ease) -> float:
    """The girth wanted over a leg: ease is a share of it, because leather gives and flesh yields,
    or an amount.
    """
    return leg_mm * (1 + ease.share) + ease.mm
