"""Kept fraction, next opening, distribution and reach: worked cases, and limits one at a time."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest
from support.published_cases import Case, cases

from fitcounter.fit.assessment import forecast, kept
from fitcounter.fit.assessment.course import rounds_on_one_tree
from fitcounter.fit.assessment.forecast import Odds, Running, Stand
from fitcounter.fit.assessment.kept import BootRecord, Keeping, Kept, Round

STAND = Stand(
    first_mm=380.0,
    leather_mm=330.0,
    girth_mm=380.0,
    need_mm=15.0,
    need_u_mm=2.0,
    round_strain=0.06,
    ceiling_strain=0.12,
    zip_strain=None,
    seam_strain=0.2,
    tree_mm=None,
    kept=Kept(0.5, 0.15),
    hold_h=24.0,
)


def read(
    opening: float, gain: float, hold_h: float = 168, dry: bool = False, method: str = "outside"
) -> Round:
    return Round(400.0, 400.0 + opening, 400.0 + gain, method, hold_h, dry)


def from_case(entry: dict[str, object]) -> Round:
    return read(
        entry["opening_mm"], entry["gain_mm"], entry["hold_h"], entry["dry"], entry["method"]
    )  # type: ignore[arg-type]


@pytest.mark.parametrize(
    "case", [case for case in cases("kept.json") if "prior" in case.values[0].given]
)
def test_a_boots_own_rounds_correct_the_guess(case: Case) -> None:
    """Worked conjugate updates."""
    mean, sd = case.given["prior"]
    found = kept.corrected(Kept(mean, sd), [from_case(entry) for entry in case.given["rounds"]])
    assert (found.mean, found.sd) == pytest.approx(
        (case.expected["mean"], case.expected["sd"]), abs=case.tolerance
    )
    assert found.rounds == len(case.given["rounds"])


@pytest.mark.parametrize(
    "case", [case for case in cases("kept.json") if "records" in case.values[0].given]
)
def test_the_shops_records_correct_the_class(case: Case) -> None:
    """Between-boot variance and class-mean variance; the sd is that of a further boot."""
    found = kept.class_kept(
        case.given["table_mean"], [BootRecord(*record) for record in case.given["records"]]
    )
    assert (found.mean, found.sd) == pytest.approx(
        (case.expected["mean"], case.expected["sd"]), abs=case.tolerance
    )
    assert (found.boots, found.rounds) == (len(case.given["records"]), 0)


def test_a_boots_record_is_the_least_squares_fraction_and_its_variance() -> None:
    """k̂ = Σz(y − z·o)/Σz², v = σ²/Σz², σ² = 4.5; the second round's z is stiffened."""
    record = kept.boot_record([read(24, 14, 24), read(20, 8, 240)])
    z1, z2 = 24, 20 * 0.95
    assert record is not None
    assert record.kept == pytest.approx((z1 * 14 + z2 * (8 - z2 * 0.12)) / (z1**2 + z2**2))
    assert record.variance == pytest.approx(4.5 / (z1**2 + z2**2))


def test_rounds_without_a_fraction_make_no_record_but_are_lived() -> None:
    """A running round and one without an on-tree reading count as rounds of the boot's life."""
    blind = Round(400.0, None, 410.0)
    running = Round(400.0, 420.0, None)
    assert kept.boot_record([blind, running]) is None
    assert (blind.kept, running.kept) == (None, None)
    prior = Kept(0.5, 0.15, boots=12)
    assert kept.corrected(prior, [blind, running]) == Kept(0.5, pytest.approx(0.15), 0, 12)
    after = kept.corrected(prior, [blind, read(20, 10, 24)])
    precision = 1 / 0.15**2 + 19**2 / 4.5
    assert after.mean == pytest.approx((0.5 / 0.15**2 + 19 * 10 / 4.5) / precision)
    assert after == Kept(after.mean, pytest.approx(precision**-0.5), 1, 12)


def test_a_round_read_flat_counts_double_with_double_doubt() -> None:
    """A width that grew by 5 is a girth that grew by 10, read half as well: a quarter of the
    weight.
    """
    flat = Round(200.0, 212.0, 207.0, "flat", 168.0)
    assert (flat.opening_mm, flat.gain_mm, flat.kept) == (24.0, 14.0, pytest.approx(14 / 24))
    taped, doubled = kept.boot_record([read(24, 14)]), kept.boot_record([flat])
    assert taped is not None
    assert doubled is not None
    assert doubled.kept == pytest.approx(taped.kept)
    assert doubled.variance == pytest.approx(4 * taped.variance)


def test_growth_follows_rested_readings_of_one_method_and_starts_again_with_another() -> None:
    """+ (rested − previous rested) by the same method, else + (rested − before); flat doubled;
    running adds nothing.
    """
    rounds = [
        Round(380.0, 400.0, 389.0, "outside"),
        Round(388.0, 410.0, 395.0, "outside"),
        Round(190.0, 200.0, 192.0, "flat"),
        Round(191.0, 203.0, 194.5, "flat"),
        Round(400.0, 410.0, 404.0, "outside"),
        Round(404.0, 420.0, None, "outside"),
    ]
    assert kept.growth_mm(rounds) == pytest.approx(9 + 6 + 4 + 5 + 4)
    assert kept.growth_mm([]) == 0.0
    assert kept.growth_mm([Round(380.0, 400.0, 378.0)]) == pytest.approx(-2)


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


@pytest.mark.parametrize(
    ("changed", "limited_by", "opening"),
    [
        ({}, "round", 0.06 * 330),
        ({"need_mm": 5.0}, "need", (5 - 1.5875) / 0.5),
        ({"need_mm": 1.0}, "need", 0.0),
        ({"ceiling_strain": 0.03}, "ceiling", 0.03 * 330),
        ({"zip_strain": 0.02}, "zip", 0.02 * 330),
        ({"seam_strain": 0.01}, "seam", 0.01 * 330),
        ({"tree_mm": 385.0}, "tree", 5.0),
        ({"tree_mm": 370.0}, "tree", 0.0),
        ({"girth_mm": 390.0, "ceiling_strain": 0.06}, "ceiling", 0.06 * 330 - 10),
        ({"girth_mm": 390.0, "ceiling_strain": 0.02}, "ceiling", 0.0),
        ({"girth_mm": 390.0, "need_mm": 30.0}, "round", 0.06 * 340),
        ({"girth_mm": 390.0, "need_mm": 30.0, "zip_strain": 0.05}, "zip", 0.05 * 340),
    ],
)
def test_the_next_opening_is_the_smallest_of_its_limits(
    changed: dict[str, float], limited_by: str, opening: float
) -> None:
    """Round, zip and seam on the leather now; ceiling on the leather as first brought in; never
    below the girth now.
    """
    stand = replace(STAND, **changed)
    found = forecast.next_opening(stand)
    assert found.limited_by == limited_by
    assert found.opening_mm == pytest.approx(opening, abs=1e-9)
    assert found.girth_mm == pytest.approx(stand.girth_mm + opening)
    assert found.expected_gain_mm == pytest.approx(0.5 * opening)


def test_limits_that_tie_are_named_in_the_order_of_the_book() -> None:
    """round, ceiling, zip, seam, need, tree; under 1e-6 apart is a tie."""
    girth = 380 + 0.06 * 330
    tied = replace(
        STAND,
        ceiling_strain=0.06,
        zip_strain=0.06,
        seam_strain=0.06,
        need_mm=1.5875 + 0.06 * 330 * 0.5,
        tree_mm=girth - 5e-7,
    )
    names = []
    for drop in (
        {},
        {"round_strain": 0.5},
        {"ceiling_strain": 0.5},
        {"zip_strain": None},
        {"seam_strain": 0.5},
        {"need_mm": 99.0},
    ):
        tied = replace(tied, **drop)
        names.append(forecast.next_opening(tied).limited_by)
    assert names == ["round", "ceiling", "zip", "seam", "need", "tree"]
    assert forecast.next_opening(replace(STAND, tree_mm=girth - 2e-6)).limited_by == "tree"


def test_a_later_round_of_the_boots_life_keeps_less() -> None:
    """Unread rounds are lived too."""
    assert forecast.next_opening(replace(STAND, lived=2)).kept == pytest.approx(0.5 * 0.95**2)


def test_a_running_round_is_the_first_of_those_to_come() -> None:
    """Its own opening, hold and preparation; the rounds after it are conditioned, at the asked
    hold.
    """
    stand = replace(STAND, lived=2, running=Running(12.0, 240.0, True), hold_h=24.0)
    opening = forecast.next_opening(stand)
    assert (opening.limited_by, opening.opening_mm, opening.girth_mm) == ("running", 12.0, 392.0)
    assert opening.kept == pytest.approx(0.62 * 0.6 * 0.95)
    first = 12 * opening.kept
    second = first + 0.06 * (330 + first) * 0.5 * 0.95**2
    third = second + 0.5 * 0.95**3 * min(0.06 * (330 + second), 380 + 0.12 * 330 - (380 + second))
    assert forecast.reach_mm(stand, 3) == pytest.approx([first, second, third])


def test_reach_leaves_the_need_aside() -> None:
    """Even a boot that is short by little could grow by what its leather gives."""
    reach = forecast.reach_mm(replace(STAND, need_mm=4.0), 2)
    assert reach == pytest.approx([9.9, 9.9 + 0.06 * (330 + 9.9) * 0.5 * 0.95])
    assert forecast.reach_mm(replace(STAND, tree_mm=370.0), 2) == [0.0, 0.0]


def test_odds_are_495_counts_that_sum_to_one() -> None:
    """99 quantiles of the fraction times 5 of the need."""
    odds = forecast.odds(STAND, forecast.next_opening(STAND))
    assert odds.total == 495
    assert len(odds.shares) == 8
    assert sum(odds.shares) == pytest.approx(1)
    assert odds.within(6) + odds.shares[7] == pytest.approx(1)


def test_a_need_within_tolerance_takes_no_round() -> None:
    """Quantile by quantile: two of the five needs of 3.175 ± 2 lie under it, and the middle one on
    it.
    """
    at_tolerance = replace(STAND, need_mm=3.175)
    odds = forecast.odds(at_tolerance, forecast.next_opening(at_tolerance))
    assert odds.counts[0] == 3 * 99


def test_a_need_just_over_tolerance_takes_a_round() -> None:
    """Half a millimetre over it is short, and one go mends it."""
    sure = replace(STAND, need_u_mm=0.0, need_mm=3.675)
    assert forecast.odds(sure, forecast.next_opening(sure)).counts[0] == 0


def test_what_an_opening_leaves_within_tolerance_is_done() -> None:
    """Without doubt about need or leather the rounds are those of plain arithmetic; a float's error
    adds none.
    """
    sure = replace(STAND, need_u_mm=0.0, kept=Kept(0.5, 1e-12), need_mm=9.9 + 3.175)
    assert forecast.odds(sure, forecast.next_opening(sure)).counts[1] == 495
    a_hair_more = replace(sure, need_mm=9.9 + 3.175 + 1e-4)
    assert forecast.odds(a_hair_more, forecast.next_opening(a_hair_more)).counts[2] == 495


def test_a_boot_that_never_gets_there_is_more_than_six() -> None:
    """The likely number is then none, and so is eight in ten."""
    stuck = replace(STAND, tree_mm=381.0)
    odds = forecast.odds(stuck, forecast.next_opening(stuck))
    assert odds.counts[7] == 495
    assert (odds.likely, odds.eight_in_ten, odds.within(6)) == (None, None, 0.0)


@pytest.mark.parametrize(
    ("counts", "likely", "eight_in_ten"),
    [
        ((0, 200, 200, 95, 0, 0, 0, 0), 1, 2),
        ((0, 0, 396, 99, 0, 0, 0, 0), 2, 2),
        ((0, 0, 395, 100, 0, 0, 0, 0), 2, 3),
        ((396, 0, 0, 0, 0, 0, 0, 99), 0, 0),
        ((0, 0, 0, 0, 0, 0, 247, 248), None, None),
        ((0, 0, 0, 0, 0, 99, 297, 99), 6, 6),
    ],
)
def test_likely_is_the_most_probable_and_eight_in_ten_the_first_that_is_enough(
    counts: tuple[int, ...], likely: int | None, eight_in_ten: int | None
) -> None:
    """The smallest on a tie; none beyond six."""
    odds = Odds(counts)
    assert (odds.likely, odds.eight_in_ten) == (likely, eight_in_ten)


@pytest.mark.parametrize("case", cases("closed_form_rounds.json"))
def test_with_a_constant_tree_the_rounds_are_those_of_the_closed_form(case: Case) -> None:
    """And the girths on the way are those of the recurrence; a tree no larger than the wanted girth
    never gets there.
    """
    given = case.given
    assert (
        rounds_on_one_tree(given["first_mm"], given["wanted_mm"], given["tree_mm"], given["kept"])
        == case.expected
    )
    girth, girths = given["first_mm"], []
    for _ in range(case.expected or 0):
        girth += given["kept"] * (given["tree_mm"] - girth)
        girths.append(girth)
    assert girths == pytest.approx(case.more["girths_mm"])
    if case.expected:
        assert girths[-1] >= given["wanted_mm"]
        assert all(earlier < given["wanted_mm"] for earlier in girths[:-1])


def test_the_forecast_meets_the_closed_form_where_nothing_stiffens() -> None:
    """One round of the forecast, tree-limited and sure, gains what the recurrence says."""
    sure = replace(
        STAND,
        tree_mm=400.0,
        round_strain=1.0,
        ceiling_strain=1.0,
        seam_strain=1.0,
        kept=Kept(0.45, 0.1),
    )
    assert forecast.reach_mm(sure, 1) == pytest.approx([9.0])


def test_normal_quantiles_are_symmetric_and_sit_in_the_middle_of_their_steps() -> None:
    """(j + ½)/n; the middle one is 0."""
    steps = forecast.normal_quantiles(5)
    assert steps[2] == pytest.approx(0, abs=1e-15)
    assert steps[0] == pytest.approx(-1.2815515655446004)
    assert steps == pytest.approx([-step for step in reversed(steps)])
    assert len(forecast.normal_quantiles(99)) == 99
    assert math.isclose(forecast.normal_quantiles(99)[98], 2.573, abs_tol=2e-3)
