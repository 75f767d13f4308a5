"""Where each reading of leg and boot stands in the boot: millimetres above the inside heel seat."""

from __future__ import annotations

from collections.abc import Sequence

from fitcounter.errors import BadInput, message
from fitcounter.fit.assessment.job import Job, Reading, Side
from fitcounter.fit.assessment.job_boot import Boot
from fitcounter.fit.assessment.profile import Point, heel_drop_mm, inside_girth_mm, span_mm


def leg_heights_mm(job: Job, side: Side) -> list[float]:
    """Heights of the leg readings above the inside heel seat: lower by the boot's pitch, unless
    read on a block of its rise.
    """
    drop_mm = 0.0 if job.leg.on_block else heel_drop_mm(side.boot.rise_mm)
    return [reading.height.float_mm - drop_mm for reading in side.leg]


def shaft_points(side: Side) -> list[Point]:
    """Height and inside girth of each reading of a boot, in their order.

    Raises BadInput naming the first that lies below the heel seat, or has no room inside its wall.
    """
    boot = side.boot
    heights = _above_seat_mm([reading.height.float_mm for reading in side.shaft], boot)
    girths = [reading.girth_mm for reading in side.shaft]
    if boot.method != "inside":
        girths = [inside_girth_mm(girth, boot.method, boot.wall_mm) for girth in girths]
    points = list(zip(heights, girths, strict=True))
    if min(heights, default=0) < 0 or min(girths, default=1) <= 0:
        for place, point in enumerate(points):
            _refuse_impossible(point, boot, f"{side.name}.boot[{place}]")
    return points


def boot_span_mm(side: Side) -> tuple[float, float]:
    """Lowest and highest reading of a side's boot, above the heel seat. Raises as
    shaft_points."""
    return span_mm([height for height, _ in shaft_points(side)])


def seat_height_mm(reading: Reading, boot: Boot, field: str) -> float:
    """Height of a boot reading above the inside heel seat.

    Raises BadInput naming the field where it lies below.
    """
    (height,) = _above_seat_mm([reading.height.float_mm], boot)
    _refuse_below_seat(height, boot, field)
    return height


def _above_seat_mm(heights_mm: Sequence[float], boot: Boot) -> Sequence[float]:
    """Heights as they are marked on the boot, above its inside heel seat."""
    if boot.heights_from == "ground":
        return [height - boot.seat_mm for height in heights_mm]
    if boot.heights_from == "top-line":
        return [boot.shaft_mm - height for height in heights_mm]
    return heights_mm


def _refuse_below_seat(height_mm: float, boot: Boot, field: str) -> None:
    if height_mm < 0:
        asked = "seat_mm" if boot.heights_from == "ground" else "shaft_mm"
        raise BadInput(
            message(
                "{field}.height: lies below the heel seat; write the height again, or"
                " boot.{asked}.",
                field=field,
                asked=asked,
            ),
            field=f"{field}.height",
        )


def _refuse_impossible(point: Point, boot: Boot, field: str) -> None:
    """A boot reading below the heel seat, or with no room inside its wall."""
    height_mm, girth_mm = point
    _refuse_below_seat(height_mm, boot, field)
    if girth_mm <= 0:
        raise BadInput(
            message("{field}.girth: less than its wall; write it, or boot.wall_mm.", field=field),
            field=f"{field}.girth",
        )
