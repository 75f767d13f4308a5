"""Leather: limits and what narrows them, and what refuses."""

from __future__ import annotations

import math

import pytest
from support.assess_jobs import answer, job

from fitcounter.fit.assessment.legs import allowed_girth_mm
from fitcounter.fit.assessment.materials import Narrowing, limits, refusals
from fitcounter.fit.handbook import leather as leather_book
from fitcounter.fit.handbook.leather import LEATHERS

CALF = LEATHERS["supple-full-grain"]


@pytest.mark.parametrize(
    ("lining", "age", "dial", "findings", "expected"),
    [
        ("none", "sound", "usual", (), (0.04, 0.10, 0.17)),
        ("leather", "sound", "usual", (), (0.04, 0.10, 0.17)),
        ("textile", "sound", "usual", (), (0.04, 0.075, 0.1275)),
        ("fleece", "sound", "usual", (), (0.04, 0.075, 0.1275)),
        ("none", "dry-or-old", "usual", (), (0.04, 0.05, 0.085)),
        ("none", "sound", "careful", (), (0.04, 0.05, 0.085)),
        ("none", "sound", "usual", ("prior-stretch",), (0.04, 0.10, 0.085)),
        (
            "textile",
            "dry-or-old",
            "careful",
            ("prior-stretch",),
            (0.17 * 0.09375, 0.10 * 0.1875, 0.17 * 0.09375),
        ),
    ],
)
def test_limits_are_narrowed_by_lining_age_dial_and_an_earlier_stretch(
    lining: str,
    age: str,
    dial: str,
    findings: tuple[str, ...],
    expected: tuple[float, float, float],
) -> None:
    """Modifiers multiply on round and ceiling; routine is at most the ceiling."""
    found = limits(CALF, Narrowing(lining, age, dial, findings))
    assert (found.routine, found.round, found.ceiling) == pytest.approx(expected)
    assert len(found.because) == 1 + (lining in ("textile", "fleece")) + (age != "sound") + (
        dial != "usual"
    ) + len(findings)


def test_unlined_is_the_default_of_findings() -> None:
    """No finding narrows nothing."""
    assert limits(CALF, Narrowing()).ceiling == 0.17


@pytest.mark.parametrize("code", ["coated", "synthetic"])
def test_coated_and_bonded_are_refused_whatever_else(code: str) -> None:
    """With the reason of the table."""
    assert refusals(LEATHERS[code], (), True) == [f"{LEATHERS[code].name}: {LEATHERS[code].reason}"]


def test_exotic_needs_the_masters_sign_off() -> None:
    """Ostrich, reptile, fish."""
    assert refusals(LEATHERS["exotic"], (), True) == []
    assert "owner’s approval" in refusals(LEATHERS["exotic"], (), False)[0]


@pytest.mark.parametrize("finding", ["cracked-grain", "cracked-finish", "red-rot", "delaminated"])
def test_a_finding_that_refuses_does_so_in_any_class(finding: str) -> None:
    """One reason each."""
    assert len(refusals(CALF, ("open-seam", finding, "scuffs"), True)) == 1
    assert len(refusals(CALF, ("open-seam", "prior-stretch", "scuffs"), True)) == 0


@pytest.mark.parametrize(
    ("posture", "time", "layer_mm", "girth"),
    [
        ("standing", "evening", 0, 370.0),
        ("standing", "morning", 0, 370 * 1.013),
        ("standing", "midday", 0, 370 * 1.006),
        ("seated", "evening", 0, 370 * 0.988),
        ("seated", "morning", 0, 370 * 1.001),
        ("seated", "morning", 1.0, 370 * 1.001 + 2 * math.pi),
    ],
)
def test_allowances_are_shares_that_add_up_and_a_layer_comes_after(
    posture: str, time: str, layer_mm: float, girth: float
) -> None:
    """So that no step appears along the leg."""
    assert allowed_girth_mm(370.0, posture, time, layer_mm) == pytest.approx(girth)


def told(code: str, dial: str, short_by_mm: float) -> str:
    """The answer to a boot as the first run tells of it, so much short."""
    height = {"height": "300"}
    girth, amount = f"{leather_book.CAREFUL_GIRTH_MM} mm", f"{short_by_mm} mm"
    data = job(
        {"boot": [{**height, "girth": [girth]}], "amounts": [{**height, "amount": amount}]},
        {"material": code, "lining": "leather", "zip": {"from_mm": 50, "to_mm": 420}},
        limits=dial,
    )
    return str(answer(data)["verdict"])


@pytest.mark.parametrize(
    ("code", "from_mm"),
    [
        ("supple-full-grain", leather_book.CAREFUL_SOFT_MM),
        ("firm-full-grain", leather_book.CAREFUL_FIRM_MM),
    ],
)
def test_what_careful_refuses_is_as_the_first_run_says(code: str, from_mm: float) -> None:
    """A panel from there on, not a sixteenth before; usual stretches it."""
    assert told(code, "careful", from_mm) == "panel"
    assert told(code, "careful", from_mm - 25.4 / 16) != "panel"
    assert told(code, "usual", from_mm) in ("routine", "stages")
