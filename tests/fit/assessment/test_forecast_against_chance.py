"""The forecast against a plain Monte Carlo of the same model, against integration, and against what
would happen.
"""

from __future__ import annotations

import random
from dataclasses import replace

import pytest
from scipy.integrate import quad
from scipy.stats import norm
from support.plain_policy import Boot, monte_carlo, rounds_needed

from fitcounter.fit.assessment import forecast, kept
from fitcounter.fit.assessment.forecast import Odds, Stand
from fitcounter.fit.assessment.kept import BootRecord, Kept, Round

BOOTS = {
    "round-limited": Boot(
        343.0, 293.0, 343.0, 22.2, 2.2, 0.08, 0.13, 0.2, 0.2, None, 0.5, 0.15, 168.0
    ),
    "need-limited": Boot(
        380.0, 330.0, 380.0, 7.0, 2.5, 0.06, 0.12, None, 0.2, None, 0.5, 0.15, 48.0
    ),
    "ceiling": Boot(
        380.0, 330.0, 391.0, 14.0, 3.0, 0.04, 0.08, None, 0.06, None, 0.45, 0.10, 168.0, 2
    ),
    "short tree": Boot(
        360.0, 300.0, 360.0, 16.0, 2.0, 0.08, 0.13, 0.05, 0.2, 392.0, 0.5, 0.15, 72.0
    ),
    "nearly done": Boot(
        380.0, 330.0, 388.0, 3.6, 2.2, 0.06, 0.12, None, 0.2, None, 0.46, 0.09, 168.0, 1
    ),
}


def stand_of(boot: Boot) -> Stand:
    return Stand(
        first_mm=boot.first,
        leather_mm=boot.leather,
        girth_mm=boot.girth,
        need_mm=boot.need,
        need_u_mm=boot.need_u,
        round_strain=boot.round,
        ceiling_strain=boot.ceiling,
        zip_strain=boot.zip,
        seam_strain=boot.seam,
        tree_mm=boot.tree,
        kept=Kept(boot.mean, boot.sd),
        hold_h=boot.hold_h,
        lived=boot.lived,
    )


def odds_of(boot: Boot) -> Odds:
    stand = stand_of(boot)
    return forecast.odds(stand, forecast.next_opening(stand))


@pytest.mark.parametrize("name", BOOTS)
def test_each_quantile_takes_the_rounds_of_the_policy_followed_step_by_step(name: str) -> None:
    """The short cut of the forecast (one run serves all needs) counts what the plain policy counts,
    all 495.
    """
    assert odds_of(BOOTS[name]).counts == step_by_step(BOOTS[name])


def step_by_step(boot: Boot) -> tuple[int, ...]:
    counts = [0] * 8
    for kept_step in forecast.normal_quantiles(99):
        for need_step in forecast.normal_quantiles(5):
            counts[
                rounds_needed(
                    boot, boot.mean + boot.sd * kept_step, boot.need + boot.need_u * need_step
                )
            ] += 1
    return tuple(counts)


def test_random_boots_take_the_rounds_of_the_policy_followed_step_by_step() -> None:
    """100 boots with limits and needs of all kinds, all 495 quantiles of each."""
    rng = random.Random(495)
    for _ in range(100):
        boot = random_boot(rng)
        assert odds_of(boot).counts == step_by_step(boot), boot


def random_boot(rng: random.Random) -> Boot:
    leather = rng.uniform(150, 380)
    first = leather + rng.uniform(0, 80)
    lived = rng.choice([0, 0, 1, 2])
    girth = first + (rng.uniform(0, 12) if lived else 0)
    round_strain = rng.uniform(0.02, 0.08)
    return Boot(
        first,
        leather,
        girth,
        rng.uniform(3.5, 30),
        rng.choice([0.0, 2.2, 3.0]),
        round_strain,
        round_strain * rng.uniform(1.2, 2.2),
        rng.choice([None, rng.uniform(0.03, 0.2)]),
        rng.uniform(0.05, 0.2),
        rng.choice([None, None, girth + rng.uniform(-3, 40)]),
        rng.uniform(0.3, 0.6),
        rng.uniform(0.05, 0.15),
        rng.choice([48.0, 72.0, 168.0]),
        lived,
    )


@pytest.mark.slow
@pytest.mark.parametrize("name", BOOTS)
def test_the_distribution_agrees_with_two_hundred_thousand_draws(name: str) -> None:
    """Within one step of the fraction (1/99) and four standard errors of the draws."""
    assert worst_difference(name, 200_000, five_needs=True) < 1 / 99 + 4 * 0.5 / 200_000**0.5


@pytest.mark.parametrize("name", BOOTS)
def test_the_distribution_agrees_with_ten_thousand_draws(name: str) -> None:
    """The short form of the same, for every day."""
    assert worst_difference(name, 10_000, five_needs=True) < 1 / 99 + 4 * 0.5 / 10_000**0.5


@pytest.mark.slow
@pytest.mark.parametrize("name", BOOTS)
def test_five_steps_of_the_need_stand_for_all_of_it_to_within_half_a_step(name: str) -> None:
    """Against draws of a continuous need: a fifth of the boots turns on each step, so half of that
    is the most it can err.
    """
    assert worst_difference(name, 200_000, five_needs=False) < 1 / 10 + 1 / 99


def worst_difference(name: str, draws: int, five_needs: bool) -> float:
    """The largest difference of P(≤ n) over all n."""
    boot = BOOTS[name]
    needs = (
        [boot.need + boot.need_u * step for step in forecast.normal_quantiles(5)]
        if five_needs
        else None
    )
    ours, theirs = odds_of(boot).shares, monte_carlo(boot, draws, 11, needs)
    return max(abs(sum(ours[: rounds + 1]) - sum(theirs[: rounds + 1])) for rounds in range(8))


def calibration(boots: int, seed: int) -> dict[int, tuple[float, float]]:
    """Mean predicted P(≤ n) and the share that was done within n, over boots whose fraction and
    need come from the prior.
    """
    rng = random.Random(seed)
    told, seen = dict.fromkeys((1, 2, 3), 0.0), dict.fromkeys((1, 2, 3), 0)
    for _ in range(boots):
        boot = random_boot(rng)
        odds = odds_of(boot)
        took = rounds_needed(boot, rng.gauss(boot.mean, boot.sd), rng.gauss(boot.need, boot.need_u))
        for rounds in told:
            told[rounds] += odds.within(rounds)
            seen[rounds] += took <= rounds
    return {rounds: (told[rounds] / boots, seen[rounds] / boots) for rounds in told}


def test_the_forecast_is_calibrated_over_four_thousand_boots() -> None:
    """Mean predicted P(≤ n) and observed share differ by under 2 points for n = 1, 2, 3."""
    for rounds, (told, seen) in calibration(4_000, seed=4).items():
        assert abs(told - seen) < 0.02, f"within {rounds}: told {told:.3f}, seen {seen:.3f}"


def test_a_forecast_that_lies_is_found_uncalibrated() -> None:
    """The check can fail: the same boots with a hold the forecast is not told of."""
    rng = random.Random(4)
    told = seen = 0.0
    for _ in range(1_000):
        boot = random_boot(rng)
        told += odds_of(replace(boot, hold_h=500.0, mean=boot.mean + 0.1)).within(2)
        seen += (
            rounds_needed(boot, rng.gauss(boot.mean, boot.sd), rng.gauss(boot.need, boot.need_u))
            <= 2
        )
    assert abs(told - seen) / 1_000 > 0.02


ROUNDS = [
    Round(400, 424, 414, "outside", 168.0),
    Round(412, 432, 420, "outside", 48.0, True),
    Round(200, 209, 204, "flat", 72.0),
]


@pytest.mark.parametrize("count", [1, 2, 3])
def test_the_correction_agrees_with_numerical_integration(count: int) -> None:
    """Prior times the likelihood of each round's gain, integrated with SciPy, no conjugate
    formula.
    """
    prior, rounds = Kept(0.5, 0.15), ROUNDS[:count]

    def density(k24: float) -> float:
        value = norm.pdf(k24, prior.mean, prior.sd)
        for number, turn in enumerate(rounds, start=1):
            assert turn.opening_mm is not None
            fraction = (
                (k24 + kept.hold_bonus(turn.hold_h))
                * 0.95 ** (number - 1)
                * (0.6 if turn.dry else 1)
            )
            sigma = 2**0.5 * 1.5 * (2 if turn.method == "flat" else 1)
            value *= norm.pdf(turn.gain_mm, turn.opening_mm * fraction, sigma)
        return float(value)

    whole = quad(density, -1, 2, epsabs=1e-14, epsrel=1e-11)[0]
    mean = quad(lambda k: k * density(k), -1, 2, epsabs=1e-14, epsrel=1e-11)[0] / whole
    square = (
        quad(lambda k: (k - mean) ** 2 * density(k), -1, 2, epsabs=1e-14, epsrel=1e-11)[0] / whole
    )
    ours = kept.corrected(prior, rounds)
    assert (ours.mean, ours.sd) == pytest.approx((mean, square**0.5), abs=1e-6)


def test_the_class_update_agrees_with_numerical_integration() -> None:
    """The class mean's posterior from three boots, and the spread of a further boot round it."""
    records = [BootRecord(0.40, 0.004), BootRecord(0.55, 0.02), BootRecord(0.35, 0.001)]

    def density(mean: float) -> float:
        value = norm.pdf(mean, 0.5, 0.1)
        for record in records:
            value *= norm.pdf(record.kept, mean, (0.0125 + record.variance) ** 0.5)
        return float(value)

    whole = quad(density, -1, 2, epsabs=1e-14)[0]
    mean = quad(lambda m: m * density(m), -1, 2, epsabs=1e-14)[0] / whole
    square = quad(lambda m: (m - mean) ** 2 * density(m), -1, 2, epsabs=1e-14)[0] / whole
    ours = kept.class_kept(0.5, records)
    assert (ours.mean, ours.sd) == pytest.approx((mean, (0.0125 + square) ** 0.5), abs=1e-6)
