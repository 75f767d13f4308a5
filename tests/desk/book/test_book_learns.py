"""A shop of 300 boots whose true kept fractions are known: its book covers them, and what it says
of the next boots comes true.

The boots' rounds go through the file, the book reads them, the answer at the counter takes what the
book hands it, and a plain policy that shares no code with the program plays what the boots would
really do.
"""

from __future__ import annotations

import random
from pathlib import Path

import pytest
from support.known_shop import TRUTHS, compare, finish_boots

from fitcounter.desk.assessment import learnt_from_own_boots
from fitcounter.desk.book import estimate_and_result
from fitcounter.store.database import Store
from fitcounter.store.opening import open_store

RIGHT_WITHIN = 0.03
BOOTS = 300


def test_the_range_of_each_leather_holds_eight_in_ten_of_its_boots_and_its_mean_the_true_one(
    store: Store,
):
    drawn = finish_boots(store, random.Random(1), BOOTS)
    lines = estimate_and_result.leather_lines(store)
    assert {line.code: line.boots for line in lines} == dict.fromkeys(TRUTHS, BOOTS // len(TRUTHS))
    for line in lines:
        inside = sum(line.low <= one <= line.high for one in drawn[line.code]) / line.boots
        assert (
            0.70 <= inside <= 0.95
        )  # three standard errors of a share of 100 either way, for a spread of 0.10 or 0.11
        assert line.learnt
        # three standard errors of a mean of 100 boots: between boots 0.11, each known to 0.08
        assert line.mean == pytest.approx(
            TRUTHS[line.code][0], abs=3 * (0.11**2 + 0.08**2) ** 0.5 / line.boots**0.5
        )


def test_what_is_told_of_the_next_boots_comes_true_within_three_points(store: Store):
    chance = random.Random(1)
    finish_boots(store, chance, BOOTS)
    for rounds, (told, true, _) in compare(
        chance, learnt_from_own_boots.records(store), boots=200, draws=20
    ).items():
        assert abs(told - true) < RIGHT_WITHIN, (
            f"within {rounds}: told {told:.3f}, came true {true:.3f}"
        )


def test_without_the_book_the_table_s_guess_is_far_off_for_this_shop():
    """The check can fail: the same boots, answered as if nothing had been learnt."""
    told, true, _ = compare(random.Random(1), {}, boots=200, draws=20)[2]
    assert told - true > 2 * RIGHT_WITHIN


def test_a_bench_that_goes_by_single_readings_needs_another_go_in_under_one_case_of_ten_more(
    store: Store,
):
    """The forecast means the boot's true girth.

    A tape read once, with its 1.5 mm, sends some boots on the tree again.
    """
    chance = random.Random(1)
    finish_boots(store, chance, BOOTS)
    for told, _, read in compare(
        chance, learnt_from_own_boots.records(store), boots=200, draws=10
    ).values():
        assert -RIGHT_WITHIN < told - read < 0.10


@pytest.mark.slow
@pytest.mark.parametrize("seed", range(2, 12))
def test_ten_more_such_shops_and_two_thousand_boots_each(tmp_path: Path, seed: int):
    opened = open_store(tmp_path / "shop.db")
    chance = random.Random(seed)
    finish_boots(opened, chance, BOOTS)
    told_and_true = compare(chance, learnt_from_own_boots.records(opened), boots=2000, draws=20)
    opened.close()
    for rounds, (told, true, read) in told_and_true.items():
        print(
            f"within {rounds}: told {told:.3f}, came true {true:.3f}, by the bench's readings"
            f" {read:.3f}"
        )
        assert abs(told - true) < RIGHT_WITHIN, (
            f"within {rounds}: told {told:.3f}, came true {true:.3f}"
        )
