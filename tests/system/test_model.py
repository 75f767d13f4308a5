"""A model of the shop beside the shop itself: after every step, taken or refused, the file holds
what the model says.
"""

from __future__ import annotations

from collections import Counter
from concurrent.futures import ProcessPoolExecutor
from multiprocessing import get_context

import pytest
from system.shop_model import play


def words(taken: Counter[str]) -> str:
    return f"{taken.total()} steps: " + ", ".join(
        f"{what} {count}" for what, count in sorted(taken.items())
    )


def test_after_every_step_the_file_holds_what_the_model_says() -> None:
    taken = play(5, 110)
    print(words(taken))
    assert taken.total() > 400


@pytest.mark.slow
def test_after_twenty_thousand_steps_too() -> None:
    """Two processes with other shops each, as there are two cores."""
    with ProcessPoolExecutor(2, get_context("spawn")) as both:
        runs = [both.submit(play, 35, 320, start) for start in (1, 2)]
        taken = runs[0].result() + runs[1].result()
    print(words(taken))
    assert taken.total() >= 20_000
