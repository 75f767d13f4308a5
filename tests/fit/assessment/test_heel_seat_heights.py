"""Heights as they were marked, above the inside heel seat."""

from __future__ import annotations

from typing import Any

import pytest
from support.assess_jobs import job, shaft

from fitcounter.errors import BadInput
from fitcounter.fit.assessment.heel_seat_heights import boot_span_mm, seat_height_mm
from fitcounter.fit.assessment.job import Job
from fitcounter.fit.assessment.job_json import read_job


def read(both: dict[str, Any], boot: dict[str, Any]) -> Job:
    return read_job(job(both, boot))


@pytest.mark.parametrize(
    ("datum", "height"), [("heel-seat", 400), ("ground", 360), ("top-line", 50)]
)
def test_heights_are_brought_to_the_heel_seat_whatever_they_were_read_from(
    datum: str, height: float
) -> None:
    """seat_mm: of the seat above the ground; shaft_mm: of the top line above the seat."""
    side = read({}, {"heights_from": "heel-seat"}).sides[0]
    boot = read({}, {"seat_mm": 40, "shaft_mm": 450}).sides[0].boot
    moved = type(boot)(
        **{name: getattr(boot, name) for name in boot.__slots__} | {"heights_from": datum}
    )
    assert seat_height_mm(side.shaft[1], moved, "left.boot[1]") == height


def test_a_height_below_the_heel_seat_is_refused_by_name() -> None:
    low = read(
        {"boot": shaft(("30", "400"), ("400", "400"))}, {"heights_from": "ground", "seat_mm": 40}
    )
    with pytest.raises(BadInput) as refused:
        boot_span_mm(low.sides[0])
    assert refused.value.field == "left.boot[0].height"
