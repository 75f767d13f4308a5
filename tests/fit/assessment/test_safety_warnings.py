"""Cautions: always said, and those of the job first."""

from __future__ import annotations

from typing import Any

import pytest
from support.assess_jobs import answer, job, leg

from fitcounter.fit.assessment import safety_warnings
from fitcounter.fit.assessment.assess import assess, read_job


def amount(mm: str, **more: Any) -> dict[str, Any]:
    return {"amounts": [{"height": "300", "amount": mm}], **more}


def test_cautions_are_always_said_and_those_of_the_job_first() -> None:
    """The clot, the take-off signs, compression, numb feet, the knee's nerve, and that the shop
    does not diagnose.
    """
    found = answer(job())["cautions"]
    assert found == list(safety_warnings.CUSTOMER)
    whole = " ".join(found)
    for word in (
        "clot",
        "emergency",
        "medical advice",
        "numbness",
        "Compression",
        "diabetes",
        "nerve",
        "local rules",
    ):
        assert word in whole
    bench = " ".join(safety_warnings.BENCH)
    for word in ("eye cover", "safety data sheet", "45 °C", "75 °C", "100 °C", "licensed practice"):
        assert word in bench


@pytest.mark.parametrize(
    ("right", "prompts"), [("390", True), ("390.1", False), ("450", True), ("449.9", False)]
)
def test_a_good_bit_of_difference_between_the_legs_is_one_gentle_prompt(
    right: str, prompts: bool
) -> None:
    """From 30 mm at one place, left or right, by station or by height; never a reason to refuse."""
    for station, height in (("calf", "290"), ("none", "300")):
        data = job({"target": "leg", "leg": leg((station, "300", "420"))})
        data["right"]["leg"] = leg((station, height, right))
        assert answer(data)["cautions"].count(safety_warnings.ONE_LEG_FULLER) == int(prompts)
    elsewhere = job({"target": "leg", "leg": leg(("none", "300", "420"))})
    elsewhere["right"]["leg"] = leg(("none", "200", "300"))
    assert safety_warnings.ONE_LEG_FULLER not in answer(elsewhere)["cautions"]


def test_a_single_leg_is_compared_with_nothing() -> None:
    """A boot that comes alone."""
    data = job({"target": "leg", "leg": leg(("calf", "300", "420"))})
    assert safety_warnings.ONE_LEG_FULLER not in assess(read_job(data, ("right",))).cautions


@pytest.mark.parametrize(
    ("boot", "side", "warns"),
    [
        ({"throat_mm": 300}, {"heel": "310"}, True),
        ({"throat_mm": 310}, {"heel": "310"}, False),
        ({"throat_mm": 300}, {}, False),
        ({}, {"heel": "310"}, False),
        ({"throat_mm": 300, "zip": {"from_mm": 0, "to_mm": 400}}, {"heel": "310"}, False),
        ({"throat_mm": 300}, {"leg": [{"station": "heel", "girth": ["310", "311", "309"]}]}, True),
    ],
)
def test_a_heel_that_will_not_pass_is_a_caution_and_never_a_tier(
    boot: dict[str, Any], side: dict[str, Any], warns: bool
) -> None:
    """A zip boot is exempt (handbook rule: throat 300, heel measure 310 will not pass)."""
    whole = answer(job(side, boot))
    assert (safety_warnings.WILL_NOT_PASS in whole["cautions"]) is warns
    assert whole["verdict"] == answer(job())["verdict"]
