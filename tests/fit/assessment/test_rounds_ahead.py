"""The distribution of further rounds: worked cases, its end points, and a plain Monte Carlo of the
same bench.
"""

from __future__ import annotations

import random
from dataclasses import replace

import pytest
from support.plain_policy import Boot, monte_carlo

from fitcounter.fit.assessment import opening_ahead, rounds_ahead
from fitcounter.fit.assessment.kept_fraction import Belief, Kept, MeasuredRound, belief
from fitcounter.fit.assessment.opening_ahead import Running, Stand
from fitcounter.fit.assessment.rounds_ahead import Odds

STAND = Stand(
    first_mm=346.075,
    leather_mm=296.075,
    girth_mm=346.075,
    need_mm=15.875,
    need_u_mm=2.3,
    round_strain=0.08,
    ceiling_strain=0.13,
    zip_strain=None,
    seam_strain=1.0,
    tree_mm=None,
    kept=Kept(0.5, 0.15),
    hold_h=168.0,
)
PRIOR = Kept(0.5, 0.15)


def odds_of(stand: Stand) -> Odds:
    return rounds_ahead.odds(stand, opening_ahead.next_opening(stand))


def test_the_worked_case_before_any_round() -> None:
    """Need 15.875 of 296.075 mm, limits .08 and .13, .50 ± .15, a week."""
    odds = odds_of(STAND)
    assert odds.shares[1:4] == pytest.approx((0.6524, 0.3201, 0.0239), abs=5e-5)
    assert odds.fits == pytest.approx(0.8490, abs=5e-5)


def test_the_worked_case_after_a_round() -> None:
    """Need 7.875, leather now 310.075, 24.490 to the ceiling, after opening 24 and gaining 14."""
    rounds = [MeasuredRound(400.0, 424.0, 414.0)]
    thought = belief(PRIOR, rounds)
    stand = replace(
        STAND,
        girth_mm=360.075,
        need_mm=7.875,
        kept=thought.kept(PRIOR),
        lived=1,
        belief=thought,
    )
    assert stand.first_mm + 0.13 * stand.leather_mm - stand.girth_mm == pytest.approx(
        24.490, abs=5e-4
    )
    odds = odds_of(stand)
    assert odds.shares[1:4] == pytest.approx((0.9072, 0.0920, 0.0008), abs=5e-5)
    assert odds.fits == pytest.approx(0.8584, abs=5e-5)


def test_the_luck_is_spread_by_radical_inverses() -> None:
    """The point for 6 in the first three bases."""
    found = [rounds_ahead.radical_inverse(6, base) for base in (2, 3, 5)]
    assert found == pytest.approx([0.375, 2 / 9, 0.24])
    assert len(rounds_ahead.points()) == 399
    assert all(len(luck) == 5 for _, _, luck in rounds_ahead.points())


def test_a_need_within_tolerance_takes_no_round() -> None:
    """On the tolerance too; of such a boot nothing is called done by a further round."""
    for need in (3.175, 0.0, -5.0):
        stand = replace(STAND, need_mm=need)
        assert odds_of(stand) == Odds((1.0, *(0.0,) * 7))


def test_a_need_just_over_tolerance_takes_a_round() -> None:
    """Half a millimetre over it is short."""
    assert odds_of(replace(STAND, need_mm=3.675)).shares[0] == 0.0


def test_an_opening_within_tolerance_is_not_made() -> None:
    """The bench stops there: never done, and no word on fitting."""
    stuck = odds_of(replace(STAND, tree_mm=STAND.girth_mm + 3.1))
    assert stuck == Odds((*(0.0,) * 7, 1.0), None)
    assert (stuck.likely, stuck.eight_in_ten, stuck.within(6)) == (None, None, 0.0)


def test_a_path_ends_where_its_next_opening_is_within_tolerance() -> None:
    """A ceiling that one round uses up leaves no second: short after it is short for good."""
    odds = odds_of(replace(STAND, ceiling_strain=0.02, need_mm=8.0))
    assert odds.shares[5:7] == (0.0, 0.0)
    assert odds.shares[7] > 0.55


def test_shares_sum_to_one() -> None:
    """Eight of them."""
    odds = odds_of(STAND)
    assert len(odds.shares) == 8
    assert sum(odds.shares) == pytest.approx(1)
    assert odds.within(6) + odds.shares[7] == pytest.approx(1)


def test_the_doubt_of_the_need_has_no_part_in_the_rounds_but_in_fitting() -> None:
    """The bench goes by what it reads."""
    sure, unsure = odds_of(replace(STAND, need_u_mm=0.0)), odds_of(replace(STAND, need_u_mm=5.0))
    assert sure.shares == unsure.shares
    assert sure.fits is not None
    assert unsure.fits is not None
    assert unsure.fits < STAND_FITS < sure.fits


STAND_FITS = 0.8490


def test_without_any_doubt_a_boot_called_done_fits_or_does_not() -> None:
    """No doubt of need or first reading: what is left to err is the reading that called it done."""
    known = Belief(0.5, 0.0, 0.0, 0.15**2, 0.0, 0.0, 0.0, 0.0, 0.0)
    odds = odds_of(replace(STAND, need_u_mm=0.0, belief=known))
    assert odds.fits is not None
    assert 0.5 < odds.fits < 1.0


def test_a_running_round_is_the_first_whatever_its_opening() -> None:
    """Its own opening and hold; a small one counts as a round too."""
    stand = replace(STAND, lived=1, running=Running(2.0, 72.0, True))
    odds = odds_of(stand)
    assert odds.shares[1] < 0.01
    assert odds.shares[2] > 0.3
    far = odds_of(replace(stand, running=Running(60.0, 72.0, False)))
    assert far.shares[1] > 0.9


def test_flat_readings_make_the_bench_less_sure() -> None:
    """Twice the reading error: fewer of those called done truly close."""
    known = Belief.at_first(PRIOR, 9.0)
    flat = odds_of(replace(STAND, flat=True, belief=known))
    taped = odds_of(STAND)
    assert flat.fits is not None
    assert taped.fits is not None
    assert flat.fits < taped.fits


@pytest.mark.parametrize(
    ("shares", "likely", "eight_in_ten"),
    [
        ((0, 0.4, 0.4, 0.2, 0, 0, 0, 0), 1, 2),
        ((0, 0, 0.8, 0.2, 0, 0, 0, 0), 2, 2),
        ((0, 0, 0.79, 0.21, 0, 0, 0, 0), 2, 3),
        ((0.8, 0, 0, 0, 0, 0, 0, 0.2), 0, 0),
        ((0, 0, 0, 0, 0, 0, 0.49, 0.51), None, None),
        ((0, 0, 0, 0, 0, 0.2, 0.6, 0.2), 6, 6),
    ],
)
def test_likely_is_the_most_probable_and_eight_in_ten_the_first_that_is_enough(
    shares: tuple[float, ...], likely: int | None, eight_in_ten: int | None
) -> None:
    """The smallest on a tie; none beyond six."""
    odds = Odds(shares)
    assert (odds.likely, odds.eight_in_ten) == (likely, eight_in_ten)


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
    "with a history": Boot(
        380.0, 330.0, 389.0, 9.0, 2.2, 0.08, 0.13, 0.1, 0.2, None, 0.42, 0.05, 168.0, 2, -0.8,
        1.2, 0.02, 240.0,
    ),
}  # fmt: skip


def stand_of(boot: Boot) -> Stand:
    thought = Belief(
        boot.mean, boot.error, 0.0, boot.sd**2, boot.with_k, 0.0, boot.error_sd**2, 0.0, 0.0
    )
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
        zip_leather_mm=boot.zip_leather,
        belief=thought,
    )


def worst_difference(boot: Boot, draws: int, seed: int = 11) -> float:
    """The largest difference of P(≤ n) over all n from that many boots drawn at random."""
    ours, theirs = odds_of(stand_of(boot)).shares, monte_carlo(boot, draws, seed)
    return max(abs(sum(ours[: rounds + 1]) - sum(theirs[: rounds + 1])) for rounds in range(8))


@pytest.mark.slow
@pytest.mark.parametrize("name", BOOTS)
def test_the_distribution_agrees_with_two_hundred_thousand_boots(name: str) -> None:
    """Within eight thousandths and four standard errors of the draws."""
    assert worst_difference(BOOTS[name], 200_000) < 0.008 + 4 * 0.5 / 200_000**0.5


@pytest.mark.parametrize("name", BOOTS)
def test_the_distribution_agrees_with_ten_thousand_boots(name: str) -> None:
    """The short form of the same, for every day."""
    assert worst_difference(BOOTS[name], 10_000) < 0.008 + 4 * 0.5 / 10_000**0.5


def test_random_boots_agree_with_boots_drawn_at_random() -> None:
    """60 boots with limits and needs of all kinds, 4,000 draws each."""
    rng = random.Random(399)
    for _ in range(60):
        boot = random_boot(rng)
        assert worst_difference(boot, 4_000) < 0.012 + 4.5 * 0.5 / 4_000**0.5, boot


def random_boot(rng: random.Random) -> Boot:
    leather = rng.uniform(150, 380)
    first = leather + rng.uniform(0, 80)
    lived = rng.choice([0, 0, 1, 2])
    girth = first + (rng.uniform(0, 12) if lived else 0)
    round_strain = rng.uniform(0.02, 0.10)
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
