"""The geometry of two leather tests and of a thin wall, against published cases."""

from __future__ import annotations

import math

import pytest
from support.published_cases import Case, cases

from fitcounter.fit.assessment import anchors
from fitcounter.fit.handbook import anchors as handbook_anchors


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
