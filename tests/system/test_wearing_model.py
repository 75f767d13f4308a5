"""A model of customer and shop: after every step all forms of the calendar agree, no wear is
invited while on hold, and none is lost or doubled.
"""

from __future__ import annotations

from collections import Counter as Tally

import pytest
from support.cast import Clock, Counter
from system.wearing_model import play

from fitcounter.store.database import Store


def test_all_forms_agree_over_random_days(stranger: Counter, store: Store, clock: Clock) -> None:
    taken = sum((play(store, clock, stranger, 20, seed) for seed in (1, 2)), Tally())
    assert taken["wear"] > 3
    assert taken["report"] + taken["answer"] > 3


@pytest.mark.slow
@pytest.mark.parametrize("block", range(10))
def test_all_forms_agree_over_ten_thousand_random_days(
    stranger: Counter, store: Store, clock: Clock, block: int
) -> None:
    """Ten customers of a hundred days in each block."""
    seeds = range(10 * block, 10 * block + 10)
    taken = sum((play(store, clock, stranger, 100, seed) for seed in seeds), Tally())
    print(dict(taken))
    assert taken.total() > 500
