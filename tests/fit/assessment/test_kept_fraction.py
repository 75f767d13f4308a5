"""What a round keeps: a boot's own rounds, its pair's, the shop's records; worked by hand and
against numerical integration.
"""

from __future__ import annotations

from dataclasses import astuple
from typing import Any

import numpy as np
import pytest
import scipy
from support.assess_jobs import job, left
from support.published_cases import Case, cases

from fitcounter.fit.assessment import kept_fraction
from fitcounter.fit.assessment.kept_fraction import Belief, BootRecord, Keeping, Kept, MeasuredRound


def read(
    opening: float, gain: float, hold_h: float = 168, dry: bool = False, method: str = "outside"
) -> MeasuredRound:
    return MeasuredRound(400.0, 400.0 + opening, 400.0 + gain, method, hold_h, dry)


def lived(entries: list[dict[str, Any]]) -> list[MeasuredRound]:
    """Rounds of a case; a chained one begins at the rested reading before it."""
    rounds: list[MeasuredRound] = []
    for entry in entries:
        start = rounds[-1].rested_mm if entry.get("chained") else 400.0
        assert start is not None
        rounds.append(
            MeasuredRound(
                start,
                start + entry["opening_mm"],
                start + entry["gain_mm"],
                entry["method"],
                entry["hold_h"],
                entry["dry"],
            )
        )
    return rounds


@pytest.mark.parametrize(
    "case", [case for case in cases("kept.json") if "prior" in case.values[0].given]
)
def test_a_boots_own_rounds_correct_the_guess(case: Case) -> None:
    """Worked joint updates of the fraction and of the errors of last and first reading."""
    prior, rounds = Kept(*case.given["prior"]), lived(case.given["rounds"])
    found, thought = kept_fraction.corrected(prior, rounds), kept_fraction.belief(prior, rounds)
    assert (found.mean, found.sd) == pytest.approx(
        (case.expected["mean"], case.expected["sd"]), abs=case.tolerance
    )
    assert found.rounds == len(rounds)
    for name in ("e", "f"):
        if name in case.expected:
            assert getattr(thought, name) == pytest.approx(case.expected[name], abs=case.tolerance)


@pytest.mark.parametrize(
    "case", [case for case in cases("kept.json") if "records" in case.values[0].given]
)
def test_the_shops_records_correct_the_class(case: Case) -> None:
    """Variances between pairs, within a pair, of the class mean; sd of a further boot."""
    found = kept_fraction.class_kept(
        case.given["table_mean"],
        [[BootRecord(*record) for record in pair] for pair in case.given["records"]],
    )
    assert (found.mean, found.sd) == pytest.approx(
        (case.expected["mean"], case.expected["sd"]), abs=case.tolerance
    )
    assert (found.boots, found.rounds) == (sum(len(pair) for pair in case.given["records"]), 0)


def test_a_boots_record_is_the_least_squares_fraction_and_its_variance() -> None:
    """k̂ = Σz(y − z·o)/Σz², v = σ²/Σz², σ² = 4.5; the second round's z is stiffened."""
    record = kept_fraction.boot_record([read(24, 14, 24), read(20, 8, 240)])
    z1, z2 = 24, 20 * 0.95
    assert record is not None
    assert record.kept == pytest.approx((z1 * 14 + z2 * (8 - z2 * 0.12)) / (z1**2 + z2**2))
    assert record.variance == pytest.approx(4.5 / (z1**2 + z2**2))


def test_rounds_without_a_fraction_make_no_record_but_are_lived() -> None:
    """A running round and one without an on-tree reading count as rounds of the boot's life."""
    blind = MeasuredRound(400.0, None, 410.0)
    running = MeasuredRound(400.0, 420.0, None)
    assert kept_fraction.boot_record([blind, running]) is None
    assert (blind.kept, running.kept) == (None, None)
    prior = Kept(0.5, 0.15, boots=12)
    assert kept_fraction.corrected(prior, [blind, running]) == Kept(0.5, pytest.approx(0.15), 0, 12)
    after = kept_fraction.corrected(prior, [blind, read(20, 10, 24)])
    precision = 1 / 0.15**2 + 19**2 / 4.5
    assert after.mean == pytest.approx((0.5 / 0.15**2 + 19 * 10 / 4.5) / precision)
    assert after == Kept(after.mean, pytest.approx(precision**-0.5), 1, 12)


def test_a_round_read_flat_counts_double_with_double_doubt() -> None:
    """A width that grew by 5 is a girth that grew by 10, read half as well: a quarter of the
    weight.
    """
    flat = MeasuredRound(200.0, 212.0, 207.0, "flat", 168.0)
    assert (flat.opening_mm, flat.gain_mm, flat.kept) == (24.0, 14.0, pytest.approx(14 / 24))
    taped, doubled = kept_fraction.boot_record([read(24, 14)]), kept_fraction.boot_record([flat])
    assert taped is not None
    assert doubled is not None
    assert doubled.kept == pytest.approx(taped.kept)
    assert doubled.variance == pytest.approx(4 * taped.variance)


def test_growth_follows_rested_readings_of_one_method_and_starts_again_with_another() -> None:
    """+ (rested − previous rested) by the same method, else + (rested − before); flat doubled;
    running adds nothing.
    """
    rounds = [
        MeasuredRound(380.0, 400.0, 389.0, "outside"),
        MeasuredRound(388.0, 410.0, 395.0, "outside"),
        MeasuredRound(190.0, 200.0, 192.0, "flat"),
        MeasuredRound(191.0, 203.0, 194.5, "flat"),
        MeasuredRound(400.0, 410.0, 404.0, "outside"),
        MeasuredRound(404.0, 420.0, None, "outside"),
    ]
    assert kept_fraction.growth_mm(rounds) == pytest.approx(9 + 6 + 4 + 5 + 4)
    assert kept_fraction.growth_mm([]) == 0.0
    assert kept_fraction.growth_mm([MeasuredRound(380.0, 400.0, 378.0)]) == pytest.approx(-2)


@pytest.mark.parametrize(
    ("k24", "hold_h", "dry", "number", "keeps"),
    [
        (0.5, 24, False, 1, 0.5),
        (0.5, 240, False, 1, 0.62),
        (0.5, 2.4, False, 1, 0.38),
        (0.5, 24, True, 1, 0.3),
        (0.5, 24, False, 3, 0.5 * 0.9025),
        (0.99, 24, False, 1, 0.95),
        (0.99, 24, True, 2, 0.95 * 0.6 * 0.95),
        (-0.2, 24, False, 1, 0.05),
    ],
)
def test_what_a_round_keeps_grows_with_the_hold_and_falls_with_age_and_dryness(
    k24: float, hold_h: float, dry: bool, number: int, keeps: float
) -> None:
    """Clamped to 0.05 … 0.95 before dryness and stiffening."""
    assert Keeping.of(hold_h, dry, number).kept(k24) == pytest.approx(keeps)


CHAINED = [
    MeasuredRound(400, 424, 414, "outside", 168.0),
    MeasuredRound(414, 436, 420, "outside", 48.0, True),
    MeasuredRound(420, 431, 425, "outside", 72.0, False, 1, 2),
]
ANEW = [CHAINED[0], MeasuredRound(413, 436, 420, "outside", 48.0, True, 2), CHAINED[2]]
BLIND = [CHAINED[0], MeasuredRound(414, None, 419), MeasuredRound(419, 435, 427)]
RUNNING = [CHAINED[0], MeasuredRound(413, 436, None)]


@pytest.mark.parametrize("rounds", [CHAINED[:1], CHAINED, ANEW])
def test_the_update_is_the_joint_normal_given_every_gain(rounds: list[MeasuredRound]) -> None:
    """By linear algebra over the fraction and each reading's own error, all gains at once."""
    prior = Kept(0.5, 0.15)
    known = [prior.sd**2]
    rows, seen = [], []
    before = last = 0
    for number, turn in enumerate(rounds):
        if number == 0 or turn.before_mm != rounds[number - 1].rested_mm:
            known.append(1.5**2 / turn.before_count)
            before = len(known) - 1
        else:
            before = last
        known.append(1.5**2 / turn.rested_count)
        last = len(known) - 1
        z = (turn.on_tree_mm - turn.before_mm) * 0.95**number * (0.6 if turn.dry else 1)
        rows.append({0: z, last: 1.0, before: -1.0})
        seen.append(turn.rested_mm - turn.before_mm - z * kept_fraction.hold_bonus(turn.hold_h))
    matrix = np.zeros((len(rows), len(known)))
    for place, row in enumerate(rows):
        for column, value in row.items():
            matrix[place, column] = value
    spread, mean = np.diag(known), np.zeros(len(known))
    mean[0] = prior.mean
    gain = spread @ matrix.T @ np.linalg.inv(matrix @ spread @ matrix.T)
    after, left = mean + gain @ (np.array(seen) - matrix @ mean), spread - gain @ matrix @ spread
    asked = np.zeros((3, len(known)))
    asked[0, 0], asked[1, last], asked[2, 1] = 1.0, 1.0, -1.0
    k, e, f = asked @ after
    var = asked @ left @ asked.T
    expected = (k, e, f, var[0, 0], var[0, 1], var[0, 2], var[1, 1], var[1, 2], var[2, 2])
    assert astuple(kept_fraction.belief(prior, rounds))[:9] == pytest.approx(expected, abs=1e-9)


def test_a_reading_of_its_own_forgets_the_error_before_it() -> None:
    """A round without a fraction, and a running one that was measured anew."""
    prior = Kept(0.5, 0.15)
    first = kept_fraction.belief(prior, CHAINED[:1])
    blind = kept_fraction.belief(prior, BLIND[:2])
    running = kept_fraction.belief(prior, RUNNING)
    for thought in (blind, running):
        assert (thought.k, thought.kk, thought.f) == (first.k, first.kk, first.f)
        assert (thought.e, thought.ke, thought.ef, thought.ee) == (0, 0, 0, 2.25)
        assert (thought.surprise, thought.rounds) == (None, 1)
    assert kept_fraction.belief(prior, [CHAINED[0], MeasuredRound(414, 436, None)]) == first
    assert kept_fraction.belief(prior, BLIND).rounds == 2


def test_before_any_round_the_first_reading_has_its_own_error() -> None:
    """Read twice, half the variance; flat, four times."""
    prior = Kept(0.5, 0.15)
    assert Belief.at_first(prior).ee == 2.25
    twice = kept_fraction.belief(prior, [MeasuredRound(400, 420, None, before_count=2)])
    assert (twice.ee, twice.ff, twice.ef) == (1.125, 1.125, -1.125)
    assert kept_fraction.belief(prior, [MeasuredRound(200, 210, None, "flat")]).ff == 9.0


def test_the_other_boot_of_a_pair_is_evidence() -> None:
    """Worked case: m .50, V .0225, k̂ .40, v .0036 → .43295 ± .10376."""
    z = (2.25 * 2 / 0.0036) ** 0.5
    other = [MeasuredRound(400, 400 + z, 400 + 0.4 * z, hold_h=24.0)]
    record = kept_fraction.boot_record(other)
    assert record is not None
    assert (record.kept, record.variance) == pytest.approx((0.40, 0.0036))
    found = kept_fraction.with_other_boot(Kept(0.5, 0.15), other)
    assert (found.mean, found.sd) == pytest.approx((0.43295, 0.10376), abs=5e-6)
    assert (found.rounds, found.other_rounds) == (0, 1)
    assert kept_fraction.with_other_boot(Kept(0.5, 0.15), RUNNING[1:]) == Kept(0.5, 0.15)


def test_a_class_that_is_hardly_spread_still_shares_its_part() -> None:
    """c is at least .6 of the variance."""
    other = [MeasuredRound(400, 430, 412, hold_h=24.0)]
    record = kept_fraction.boot_record(other)
    assert record is not None
    shared = 0.6 * 0.08**2
    weight = shared / (0.08**2 + record.variance)
    found = kept_fraction.with_other_boot(Kept(0.5, 0.08), other)
    assert found.mean == pytest.approx(0.5 + weight * (record.kept - 0.5))
    assert found.sd**2 == pytest.approx(0.08**2 - weight * shared)


def test_the_class_update_agrees_with_numerical_integration() -> None:
    """The class mean's posterior from a pair and a boot alone, and the spread of a further boot."""
    pair, alone = [BootRecord(0.40, 0.004), BootRecord(0.55, 0.02)], BootRecord(0.35, 0.001)

    def density(mean: float) -> float:
        value = scipy.stats.norm.pdf(mean, 0.5, 0.1) * scipy.stats.norm.pdf(
            alone.kept, mean, (0.0125 + alone.variance) ** 0.5
        )
        spread = np.full((2, 2), 0.0075) + np.diag([0.005 + boot.variance for boot in pair])
        off = np.array([boot.kept - mean for boot in pair])
        return float(value * np.exp(-0.5 * off @ np.linalg.inv(spread) @ off))

    quad = scipy.integrate.quad
    whole = quad(density, -1, 2, epsabs=1e-14)[0]
    mean = quad(lambda m: m * density(m), -1, 2, epsabs=1e-14)[0] / whole
    square = (
        scipy.integrate.quad(lambda m: (m - mean) ** 2 * density(m), -1, 2, epsabs=1e-14)[0] / whole
    )
    ours = kept_fraction.class_kept(0.5, [pair, [alone]])
    assert (ours.mean, ours.sd) == pytest.approx((mean, (0.0125 + square) ** 0.5), abs=1e-6)
    assert ours.boots == 3


def test_a_pair_of_different_leathers_has_no_say_in_each_others_guess() -> None:
    """Answered all the same, each boot by its own leather and rounds; alike, the other one moves
    the guess.
    """
    data = job({"amounts": [{"height": "300", "amount": "20"}]})
    data["right"]["rounds"] = [{"before": "400", "on_tree": "424", "rested": "404"}]
    alike = left(data)
    data["right"]["differs"] = {"material": "goat"}
    apart = left(data)

    assert alike["kept"]["other_rounds"] == 1
    assert alike["kept"]["mean"] < apart["kept"]["mean"]
    assert (apart["kept"]["other_rounds"], apart["kept"]["mean"]) == (0, 0.5)
