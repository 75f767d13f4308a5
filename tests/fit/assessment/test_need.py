"""What a boot is short by at each height: against the leg, the gap at the zip, or as asked."""

from __future__ import annotations

from typing import Any

import pytest
from support.assess_jobs import job, leg

from fitcounter.errors import BadInput
from fitcounter.fit.assessment import need
from fitcounter.fit.assessment.job import Ease, Job
from fitcounter.fit.assessment.job_json import read_job
from fitcounter.fit.assessment.need import Place
from fitcounter.fit.handbook import leg as book

LEG = {"target": "leg", "leg": leg(("none", "100", "380"), ("calf", "300", "420"))}


def read(both: dict[str, Any], boot: dict[str, Any] | None = None, **top: Any) -> Job:
    return read_job(job(both, boot, **top))


def places(found: Job) -> list[Place]:
    return need.places(found, found.sides[0])


def test_a_boot_is_short_by_what_the_leg_with_its_ease_has_over_the_shaft() -> None:
    """10 mm of ease: 430 wanted over 400 at the calf; the leg's station is told with it."""
    found = places(read(LEG, ease={"mm": 10}))
    low, high = found[0], found[-1]
    assert [(one.height_mm, one.station) for one in (low, high)] == [(100, None), (300, "calf")]
    assert [one.need_mm for one in (low, high)] == pytest.approx([-10, 30])
    assert [one.leg_mm for one in (low, high)] == pytest.approx([380, 420])
    between = [one.need_mm for one in found]
    assert between == sorted(between)


def test_ease_is_a_share_of_the_leg_or_an_amount() -> None:
    assert need.with_ease_mm(400, Ease(None, 6.0)) == 406
    close = Ease("close", 0.0)
    assert need.with_ease_mm(400, close) == pytest.approx(400 * (1 + close.share))


def test_a_wall_read_outside_is_taken_off_all_round() -> None:
    inside = places(read({}))[0].girth_mm
    outside = places(read({}, {"method": "outside", "wall_mm": 2}))[0].girth_mm
    assert inside - outside == pytest.approx(2 * 3.14159265 * 2)


def test_a_leg_is_read_lower_by_the_boots_pitch_unless_it_stood_on_a_block() -> None:
    for on_block, lower in ((False, True), (True, False)):
        found = read(LEG, {"rise_mm": 40}, leg={"on_block": on_block})
        height = need.leg_heights_mm(found, found.sides[0])[1]
        assert (height < 300) is lower


def test_a_gap_is_as_sure_as_it_was_read_often() -> None:
    once = {"target": "gap", "gaps": [{"height": "300", "gap": ["10", "10", "10", "10"]}]}
    (four,) = places(read(once, {"zip": {"to_mm": 400}}))
    assert four.need_u_mm == pytest.approx(book.GAP_READING_MM / 2)
    (asked,) = places(read({}))
    assert (asked.need_mm, asked.need_u_mm) == (10, 0)


def test_leg_and_boot_that_share_no_height_are_refused() -> None:
    apart = read({"target": "leg", "leg": leg(("none", "20", "300"), ("none", "60", "300"))})
    with pytest.raises(BadInput) as refused:
        need.check_places(apart, apart.sides[0])
    assert refused.value.field is not None
    assert refused.value.field.startswith("left.")
