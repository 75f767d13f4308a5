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
    """Twenty-five customers of forty days in each block: by then their boots are worn in."""
    seeds = range(25 * block, 25 * block + 25)
    taken = sum((play(store, clock, stranger, 40, seed) for seed in seeds), Tally())
    print(dict(taken))
    assert taken["wear"] > 100
    assert len(taken) == 11
