"""Profiles: the cubic against SciPy, straight lines for few readings, datums, and the heights that
are compared.
"""

from __future__ import annotations

import itertools
import math
import random

import pytest
import scipy
from support.published_cases import Case, cases

from fitcounter.errors import BadInput
from fitcounter.fit.assessment.legs import allowed_girth_mm
from fitcounter.fit.assessment.profile import Profile, heel_drop_mm, inside_girth_mm, shared_heights


@pytest.mark.parametrize("case", cases("pchip.json"))
def test_a_profile_passes_through_the_published_values(case: Case) -> None:
    """A smooth curve from four readings on, straight lines up to three."""
    profile = Profile.through(zip(case.given["heights_mm"], case.given["girths_mm"], strict=True))
    assert profile.at(case.given["at_mm"]) == pytest.approx(case.expected, abs=case.tolerance)


def random_points(rng: random.Random) -> list[tuple[float, float]]:
    heights = sorted(rng.sample(range(50, 600), rng.randint(4, 12)))
    girths = [rng.choice([rng.uniform(150, 500), 300.0]) for _ in heights]
    return [(float(height), girth) for height, girth in zip(heights, girths, strict=True)]


def test_a_thousand_random_profiles_agree_with_scipy() -> None:
    """Monotone pieces, turns and flats included, to 1e-9 mm."""
    rng = random.Random(20261125)
    for _ in range(1000):
        points = random_points(rng)
        ours, theirs = (
            Profile.through(points),
            scipy.interpolate.PchipInterpolator([h for h, _ in points], [g for _, g in points]),
        )
        low, high = ours.span
        for height in (low, high, *(rng.uniform(low, high) for _ in range(20))):
            assert ours.at(height) == pytest.approx(float(theirs(height)), abs=1e-9)


def test_a_profile_never_leaves_the_two_readings_it_lies_between() -> None:
    """No growth is invented past a reading."""
    rng = random.Random(7)
    for _ in range(300):
        points = random_points(rng)
        profile = Profile.through(points)
        for (low, first), (high, second) in itertools.pairwise(points):
            for step in range(11):
                girth = profile.at(min(high, low + (high - low) * step / 10))
                assert min(first, second) - 1e-9 <= girth <= max(first, second) + 1e-9


def test_readings_may_come_in_any_order() -> None:
    """They are sorted by height."""
    points = [(330.0, 368.0), (100.0, 224.0), (250.0, 330.0), (180.0, 270.0), (430.0, 345.0)]
    assert Profile.through(points) == Profile.through(sorted(points))


def test_three_readings_are_rough_and_four_are_not() -> None:
    """The page says so from this."""
    points = [(100.0, 224.0), (180.0, 270.0), (250.0, 330.0), (330.0, 368.0)]
    assert Profile.through(points[:3]).rough
    assert not Profile.through(points).rough
    assert Profile.straight(points).rough
    assert Profile.straight(points).at(140) == pytest.approx(247.0)


def test_nothing_is_said_beyond_the_outermost_readings() -> None:
    """Not even a hair beyond."""
    profile = Profile.through([(100.0, 224.0), (200.0, 300.0)])
    assert (profile.at(100), profile.at(200), profile.span) == (224.0, 300.0, (100.0, 200.0))
    for height in (99.999, 200.001):
        with pytest.raises(BadInput, match="There is no reading at"):
            profile.at(height)


def test_a_profile_needs_a_reading_and_each_height_once() -> None:
    """Both are said in a sentence."""
    with pytest.raises(BadInput, match="at least one height"):
        Profile.through([])
    with pytest.raises(BadInput, match="same height is there twice"):
        Profile.straight([(100.0, 224.0), (100.0, 225.0)])


def test_the_slope_is_a_central_difference_clipped_to_the_ends() -> None:
    """Over 5 mm; over what is left of it at an end; 0 on a single reading."""
    profile = Profile.straight([(100.0, 200.0), (110.0, 210.0), (120.0, 240.0)])
    assert profile.slope_at(105) == pytest.approx(1.0)
    assert profile.slope_at(110) == pytest.approx(2.0)
    assert profile.slope_at(100) == pytest.approx(1.0)
    assert profile.slope_at(120) == pytest.approx(3.0)
    assert profile.slope_at(119) == pytest.approx(3.0)
    assert profile.slope_at(109) == pytest.approx((1.0 * 2.5 + 1.0 * 1.0 + 3.0 * 1.5) / 5)
    assert Profile.straight([(100.0, 200.0)]).slope_at(100) == 0.0


@pytest.mark.parametrize("case", cases("heights.json", what="heel_drop"))
def test_a_heels_rise_lowers_the_leg_in_the_boot(case: Case) -> None:
    """The foot pitches about the ball."""
    assert heel_drop_mm(case.given["rise_mm"]) == pytest.approx(
        case.expected, abs=max(case.tolerance, 1e-12)
    )


@pytest.mark.parametrize("rise_mm", [-0.1, 140.1, math.nan])
def test_a_rise_that_no_heel_has_is_refused(rise_mm: float) -> None:
    """From 0 to the length between heel seat and ball."""
    with pytest.raises(BadInput) as refusal:
        heel_drop_mm(rise_mm)
    assert refusal.value.field == "rise_mm"


def test_the_steepest_rise_stands_on_tiptoe() -> None:
    """R = L: the foot stands upright, Δ = z + x."""
    assert heel_drop_mm(140.0) == pytest.approx(85.0)


@pytest.mark.parametrize("case", cases("heights.json", what="inside"))
def test_inside_girth_takes_the_wall_off(case: Case) -> None:
    """Inside as read, outside less 2π walls, flat twice the width less four walls."""
    girth = inside_girth_mm(case.given["reading_mm"], case.given["method"], case.given["wall_mm"])
    assert girth == pytest.approx(case.expected, abs=max(case.tolerance, 1e-12))


@pytest.mark.parametrize("case", cases("heights.json", what="layer"))
def test_a_layer_adds_two_pi_times_its_thickness(case: Case) -> None:
    """Geometry."""
    assert allowed_girth_mm(0, "standing", "evening", case.given["thickness_mm"]) == pytest.approx(
        case.expected, abs=case.tolerance
    )


def test_heights_are_compared_every_5_mm_and_at_every_reading_that_both_share() -> None:
    """From the lowest shared height up; the stations of either side in between."""
    leg = Profile.through([(90.0, 1), (112.0, 2), (131.0, 3)])
    boot = Profile.through([(101.0, 1), (118.5, 2), (150.0, 3)])
    assert shared_heights(leg, boot) == [
        101.0,
        106.0,
        111.0,
        112.0,
        116.0,
        118.5,
        121.0,
        126.0,
        131.0,
    ]


def test_a_step_that_only_a_floats_error_parts_from_a_reading_is_not_doubled() -> None:
    """0.1 + 5k lands beside readings typed as tenths."""
    first = Profile.through([(0.1, 1), (5.1, 2), (10.1, 3), (15.1, 3)])
    heights = shared_heights(first, first)
    assert heights == [0.1, 5.1, 10.1, 15.1]


def test_one_shared_height_is_enough_and_none_is_said() -> None:
    """A single gap is compared at its own height; leg and boot apart is an error with a
    sentence.
    """
    boot = Profile.through([(100.0, 1), (150.0, 2)])
    assert shared_heights(Profile.straight([(150.0, 9)]), boot) == [150.0]
    with pytest.raises(BadInput, match="share no height"):
        shared_heights(Profile.straight([(151.0, 9)]), boot)
