"""The verdict on one boot: its tier, what stands in the way, and the same with another need."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest
from support.assess_jobs import job

from fitcounter.fit.assessment import verdict
from fitcounter.fit.assessment.job_json import read_job
from fitcounter.fit.assessment.kept_fraction import Kept
from fitcounter.fit.assessment.materials import Factors
from fitcounter.fit.assessment.need import places
from fitcounter.fit.assessment.verdict import Case
from fitcounter.fit.handbook.leg import TOLERANCE_MM


def case(mm: str, boot: dict[str, Any] | None = None, **changes: Any) -> Case:
    """A boot that an amount is asked of."""
    read = read_job(job({"amounts": [{"height": "300", "amount": mm}]}, boot))
    side = read.sides[0]
    leather = side.boot.leather
    made = Case(
        places=tuple(places(read, side)),
        boot=side.boot,
        leather=leather,
        factors=FACTORS,
        dial="usual",
        findings=(),
        rounds=(),
        prior=Kept(leather.kept_mean, leather.kept_sd),
        hold_h=168,
        max_rounds=4,
        tree_max_mm=None,
    )
    return replace(made, **changes)


FACTORS = Factors()
DAMAGED = {"zip": {"to_mm": 400, "state": "damaged"}}


@pytest.mark.parametrize(
    ("asked", "tier"),
    [
        (case("0"), "none"),
        (case("6"), "routine"),
        (case("60"), "stages"),
        (case("6", DAMAGED), "repair-first"),
        (case("6", findings=("open-seam",)), "repair-first"),
        (case("120"), "panel"),
        (case("6", findings=("red-rot",)), "refuse"),
    ],
)
def test_each_tier_has_its_boot_and_the_quick_answer_is_the_same(asked: Case, tier: str) -> None:
    judged, outlook = verdict.judge(asked), verdict.outlook(asked)
    assert (judged.tier, judged.likely) == (outlook.tier, outlook.likely)
    assert judged.tier == tier
    assert (judged.panel is not None) is (tier in ("panel", "refuse"))
    assert verdict.fits_already(asked) is (tier == "none")


def test_what_must_be_mended_is_told_zip_first() -> None:
    assert verdict.repairs(case("6", DAMAGED, findings=("open-seam",))) == ("zip", "seam")
    assert verdict.repairs(case("6", {"zip": {"to_mm": 400, "state": "worn"}})) == ()


def test_a_tree_that_is_open_already_stops_the_next_opening() -> None:
    open_tree = verdict.judge(case("20", tree_max_mm=400 + TOLERANCE_MM / 2))
    assert open_tree.course is not None
    assert verdict.stopped_by(open_tree.course) == "tree"
    assert open_tree.tier == "panel"
    free = verdict.judge(case("20")).course
    assert free is not None
    assert verdict.stopped_by(free) is None


def test_too_little_leather_at_the_lowest_short_height_makes_it_a_panel() -> None:
    judged = verdict.judge(case("10", {"rigid": [{"width_mm": 300, "to_mm": 400}]}))
    assert judged.tier == "panel"
    assert judged.too_little_at is not None
    assert judged.too_little_at.height_mm == 300


def test_the_same_case_is_asked_with_another_need() -> None:
    shorter = verdict.with_need(case("20"), lambda place: -place.height_mm / 30)
    assert [place.need_mm for place in shorter.places] == [10]
    assert shorter.places[0].girth_mm == case("20").places[0].girth_mm


def test_the_heavier_of_two_tiers_is_the_pairs() -> None:
    assert verdict.heavier("stages", "routine") == "stages"
    assert verdict.heavier("panel", "refuse") == "refuse"
    assert verdict.heavier("none", "none") == "none"
