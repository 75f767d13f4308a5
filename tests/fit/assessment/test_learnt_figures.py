"""What a shop's own boots teach beside the kept fraction, against SciPy's distributions."""

from __future__ import annotations

import math
import random
from statistics import fmean, stdev

import pytest
import scipy

from fitcounter.fit.assessment.learnt_figures import mean_change_mm, share, tape_error_mm


@pytest.mark.parametrize("number", [10, 40, 400])
def test_the_tapes_own_error_comes_from_readings_of_the_same_girth(number: int) -> None:
    """√(Σ(before − previous rested)²/2N), with the interval of the chi-square distribution."""
    draw = random.Random(7)
    differences = [draw.gauss(0, 1.5 * math.sqrt(2)) for _ in range(number)]
    learnt = tape_error_mm(differences)
    assert learnt is not None
    assert learnt.value == pytest.approx(math.sqrt(sum(d * d for d in differences) / (2 * number)))
    for end, quantile in ((learnt.low, 0.975), (learnt.high, 0.025)):
        exact = learnt.value * math.sqrt(number / scipy.stats.chi2.ppf(quantile, number))
        assert end == pytest.approx(exact, rel=0.03)


def test_the_tapes_own_error_is_found_again_from_many_pairs() -> None:
    draw = random.Random(11)
    learnt = tape_error_mm([draw.gauss(0, 1.5 * math.sqrt(2)) for _ in range(4000)])
    assert learnt is not None
    assert learnt.low < 1.5 < learnt.high
    assert learnt.high - learnt.low < 0.1


@pytest.mark.parametrize("number", [10, 20, 50])
def test_a_mean_change_has_the_interval_of_students_t(number: int) -> None:
    draw = random.Random(number)
    changes = [draw.gauss(-1, 2) for _ in range(number)]
    learnt = mean_change_mm(changes)
    assert learnt is not None
    assert learnt.value == pytest.approx(fmean(changes))
    half = scipy.stats.t.ppf(0.975, number - 1) * stdev(changes) / math.sqrt(number)
    assert learnt.high - learnt.value == pytest.approx(half, rel=0.05)
    assert learnt.value - learnt.low == pytest.approx(half, rel=0.05)


@pytest.mark.parametrize(("hits", "number"), [(0, 10), (8, 10), (10, 10), (79, 100)])
def test_a_share_has_wilsons_interval(hits: int, number: int) -> None:
    learnt = share(hits, number)
    exact = scipy.stats.binomtest(hits, number).proportion_ci(method="wilson")
    assert learnt is not None
    assert (learnt.value, learnt.low, learnt.high) == pytest.approx(
        (hits / number, exact.low, exact.high)
    )


def test_fewer_than_ten_cases_do_not_count() -> None:
    nine, ten = tape_error_mm([1.0] * 9), tape_error_mm([1.0] * 10)
    assert nine is not None
    assert ten is not None
    assert (nine.counts, ten.counts) == (False, True)


def test_from_nothing_nothing_is_learnt_and_a_spread_needs_two() -> None:
    assert tape_error_mm([]) is None
    assert share(0, 0) is None
    assert mean_change_mm([1.0]) is None


def test_a_spread_needs_no_more_than_two_and_few_widen_the_interval() -> None:
    """1 and 3: mean 2, standard error 1, and t as the first term of Cornish and Fisher gives it for
    one degree of freedom: 1.95996 + (1.95996³ + 1.95996)/4 = 4.33224; for three, 2.75071.
    """
    two, four = mean_change_mm([1.0, 3.0]), mean_change_mm([1.0, 3.0, 1.0, 3.0])
    assert two is not None
    assert four is not None
    assert (two.value, two.low, two.high) == pytest.approx((2, -2.33224, 6.33224), abs=1e-4)
    half = 2.75071 * math.sqrt(4 / 3) / 2
    assert (four.low, four.high) == pytest.approx((2 - half, 2 + half), abs=1e-4)
    assert (two.number, four.number) == (2, 4)


def test_one_pair_of_readings_says_little_and_says_so() -> None:
    """2 mm apart: an error of √2; chi-square with one degree is 4.92787 as Wilson and Hilferty have
    it, and at the low end no less than (2/9)³ = .010974.
    """
    learnt = tape_error_mm([2.0])
    assert learnt is not None
    ends = (math.sqrt(2 / 4.92787), math.sqrt(2 / 0.010974))
    assert (learnt.value, learnt.low, learnt.high) == pytest.approx((math.sqrt(2), *ends), rel=1e-3)


@pytest.mark.parametrize("number", [10, 40, 400])
def test_the_interval_of_the_tapes_error_is_within_a_hundredth_of_the_exact_one(
    number: int,
) -> None:
    """From ten pairs on, where it is shown."""
    learnt = tape_error_mm([math.sqrt(2)] * number)
    assert learnt is not None
    for end, quantile in ((learnt.low, 0.975), (learnt.high, 0.025)):
        assert end == pytest.approx(
            math.sqrt(number / scipy.stats.chi2.ppf(quantile, number)), rel=0.01
        )
