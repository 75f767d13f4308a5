"""Leather: limits and what narrows them, what refuses, the leather part, strain, load, and the
anchors beside them.
"""

from __future__ import annotations

import math

import pytest
from support.assess_jobs import answer, job
from support.published_cases import Case, cases

from fitcounter.fit.assessment import anchors, shaft
from fitcounter.fit.assessment.legs import allowed_girth_mm
from fitcounter.fit.assessment.materials import limits, refusals
from fitcounter.fit.assessment.shaft import Layer, Strip
from fitcounter.fit.handbook import anchors as handbook_anchors
from fitcounter.fit.handbook import leather as leather_book
from fitcounter.fit.handbook import load as handbook_load
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
    found = limits(CALF, lining, age, dial, findings)
    assert (found.routine, found.round, found.ceiling) == pytest.approx(expected)
    assert len(found.because) == 1 + (lining in ("textile", "fleece")) + (age != "sound") + (
        dial != "usual"
    ) + len(findings)


def test_unlined_is_the_default_of_findings() -> None:
    """No finding narrows nothing."""
    assert limits(CALF, "none", "sound", "usual").ceiling == 0.17


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


@pytest.mark.parametrize("case", cases("stress_curve.json", what="strain"))
def test_strain_is_on_the_leather_part_alone(case: Case) -> None:
    """Zip and elastic do not grow."""
    strips = [Strip("strip", width, 0, 400) for width in case.given["strips_mm"]]
    first, girth = case.given["first_mm"], case.given["girth_mm"]
    leather = shaft.leather_part_mm(first, 300, strips)
    assert (girth - first) / leather == pytest.approx(case.expected, abs=case.tolerance)
    assert shaft.leather_now_mm(leather, first, girth) == pytest.approx(leather + girth - first)


def test_a_strip_counts_over_the_heights_it_spans_ends_included() -> None:
    """Not a millimetre beyond."""
    strips = [Strip("zip", 30, 60, 400), Strip("backstay", 20, 0, 100)]
    found = [
        shaft.leather_part_mm(380, height, strips)
        for height in (0, 59.9, 60, 100, 100.1, 400, 400.1)
    ]
    assert found == [360, 360, 330, 330, 350, 350, 380]


def test_a_leather_part_under_a_millimetre_counts_as_one() -> None:
    """So that a strain is always a number."""
    assert shaft.leather_part_mm(100, 10, [Strip("elastic", 120, 0, 20)]) == 1.0
    assert shaft.leather_now_mm(5, 100, 90) == 1.0


@pytest.mark.parametrize(
    "case",
    [case for what in ("stiffening", "stress") for case in cases("stress_curve.json", what=what)],
)
def test_the_stress_curve_passes_through_its_worked_points(case: Case) -> None:
    """Fixed at 10 MPa by the class's strain there."""
    layer = Layer(1.0, case.given["strain_10mpa"])
    found = (
        layer.stiffening
        if case.given["what"] == "stiffening"
        else layer.stress_mpa(case.given["strain"])
    )
    assert found == pytest.approx(case.expected, abs=case.tolerance)


def test_a_strain_far_past_tearing_still_has_a_stress() -> None:
    """A round of half a metre on a millimetre of leather, as a slip of the tape gives it: large,
    and a number.
    """
    assert math.isfinite(shaft.tension_n_per_mm(500.0, (Layer(20.0, 0.15), Layer(20.0, 0.30))))


@pytest.mark.parametrize("case", cases("stress_curve.json", what="zip"))
def test_a_zips_strength_is_told_per_millimetre(case: Case) -> None:
    """A jaw is 25 mm wide."""
    assert shaft.zip_strength_n_per_mm(case.given["lateral_n_per_25mm"]) == case.expected


def test_tension_adds_upper_and_leather_lining_and_cloth_adds_nothing() -> None:
    """Lining leather reaches 10 MPa at 0.30."""
    wall = shaft.layers(1.3, 0.25, "leather", 0.8)
    assert wall == (Layer(1.3, 0.25), Layer(0.8, 0.30))
    upper, lining_pull = (
        1.3 * Layer(1, 0.25).stress_mpa(0.08),
        0.8 * Layer(1, 0.30).stress_mpa(0.08),
    )
    assert shaft.tension_n_per_mm(0.08, wall) == pytest.approx(upper + lining_pull)
    for lining, thickness in (("none", 0.8), ("textile", 0.8), ("fleece", 0.8), ("leather", 0.0)):
        assert shaft.layers(1.3, 0.25, lining, thickness) == (Layer(1.3, 0.25),)


@pytest.mark.parametrize("tension", [1e-6, 0.05, 1.0, 10 / 3, 50.0, 500.0])
@pytest.mark.parametrize(
    "wall",
    [
        (Layer(1.4, 0.20),),
        (Layer(0.6, 0.15), Layer(0.8, 0.30)),
        (Layer(0.1, 0.3), Layer(20.0, 0.3)),
    ],
)
def test_the_strain_at_a_tension_pulls_just_that(tension: float, wall: tuple[Layer, ...]) -> None:
    """The solver is the inverse of the tension."""
    strain = shaft.strain_at_tension(tension, wall)
    assert shaft.tension_n_per_mm(strain, wall) == pytest.approx(tension, rel=1e-9)
    assert strain > 0


@pytest.mark.parametrize(
    ("tension", "word"),
    [(0.0, "ok"), (2.0, "ok"), (2.001, "watch"), (10 / 3, "watch"), (3.334, "hold"), (9.0, "hold")],
)
def test_a_zip_is_watched_above_a_fifth_and_holds_above_a_third(tension: float, word: str) -> None:
    """Of 10 N/mm; on the limit itself is not above it."""
    assert shaft.load_word(tension, 10.0, handbook_load.ZIP_WATCH, handbook_load.ZIP_HOLD) == word


@pytest.mark.parametrize(
    ("tension", "word"), [(2.0, "ok"), (2.001, "watch"), (10 / 3, "watch"), (3.334, "hold")]
)
def test_a_seam_is_watched_above_four_tenths_and_holds_above_two_thirds(
    tension: float, word: str
) -> None:
    """Of 5 N/mm."""
    assert (
        shaft.load_word(
            tension,
            handbook_load.SEAM_N_PER_MM,
            handbook_load.SEAM_WATCH,
            handbook_load.SEAM_HOLD,
        )
        == word
    )


@pytest.mark.parametrize("case", cases("ball_test.json"))
def test_ball_and_dome_have_the_strains_of_their_geometry(case: Case) -> None:
    """A second instrument, whose maker states its strain, agrees within 0.015."""
    given = case.given
    if given["what"] == "dome_height":
        found = anchors.dome_height_mm(given["radius_mm"], given["area_gain"])
    elif given["what"] == "each_way":
        found = anchors.each_way(given["area_gain"])
    else:
        test = anchors.BallTest(given["clamp_mm"], given["ball_mm"])
        height = given["height_mm"]
        by_what = {
            "strain": test.strain,
            "cone": test.cone_strain,
            "angle_deg": lambda h: math.degrees(test.angle(h)),
        }
        found = by_what[given["what"]](height)
    assert found == pytest.approx(case.expected, abs=case.tolerance)


def test_a_point_strains_less_than_a_ball_at_every_height() -> None:
    """The cone form is always lower."""
    test = anchors.BallTest(12.5, 3.125)
    for height in range(4, 13):
        assert test.cone_strain(height) < test.strain(height)


@pytest.mark.parametrize("case", cases("thin_wall.json"))
def test_six_hundred_psi_can_only_be_stress_in_the_leather(case: Case) -> None:
    """As stress it is 5 to 8 N/mm and 12 to 20 psi on the wall; as pressure it would need 124 to
    207 MPa.
    """
    given = case.given
    mpa = given["psi"] * handbook_anchors.MPA_PER_PSI
    found = {
        "psi_mpa": lambda: mpa,
        "tension": lambda: mpa * given["thickness_mm"],
        "wall_psi": (
            lambda: (
                anchors.wall_pressure_mpa(mpa, given["thickness_mm"], given["radius_mm"])
                / handbook_anchors.MPA_PER_PSI
            )
        ),
        "section_mpa": lambda: anchors.wall_stress_mpa(
            mpa, given["thickness_mm"], given["radius_mm"]
        ),
    }[given["what"]]()
    assert found == pytest.approx(case.expected, abs=case.tolerance)
    if given["what"] == "section_mpa":
        assert found > handbook_anchors.LEATHER_BREAK_HIGH_MPA


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
