"""Where each reading of leg and boot stands in the boot: millimetres above the inside heel seat."""

from __future__ import annotations

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

    def point(place: int, reading: Reading) -> Point:
        field = f"{side.name}.boot[{place}]"
        return seat_height_mm(reading, boot, field), _inside_mm(reading, boot, field)

    return [point(place, reading) for place, reading in enumerate(side.shaft)]


def boot_span_mm(side: Side) -> tuple[float, float]:
    """Lowest and highest reading of a side's boot, above the heel seat. Raises as
    shaft_points."""
    return span_mm([height for height, _ in shaft_points(side)])


def seat_height_mm(reading: Reading, boot: Boot, field: str) -> float:
    """Height of a boot reading above the inside heel seat.

    Raises BadInput naming the field where it lies below.
    """
    height = reading.height.float_mm
    if boot.heights_from == "ground":
        height -= boot.seat_mm
    elif boot.heights_from == "top-line":
        height = boot.shaft_mm - height
    if height < 0:
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
    return height


def _inside_mm(reading: Reading, boot: Boot, field: str) -> float:
    girth = inside_girth_mm(reading.girth_mm, boot.method, boot.wall_mm)
    if girth <= 0:
        raise BadInput(
            message("{field}.girth: less than its wall; write it, or boot.wall_mm.", field=field),
            field=f"{field}.girth",
        )
    return girth
