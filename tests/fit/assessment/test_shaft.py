"""The shaft as a sleeve: the leather part, strain, tension, and what zip and seams bear."""

from __future__ import annotations

import math

import pytest
from support.published_cases import Case, cases

from fitcounter.fit.assessment import shaft
from fitcounter.fit.assessment.shaft import Layer, Strip
from fitcounter.fit.handbook import load as handbook_load


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
