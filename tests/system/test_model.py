"""A model of the shop beside the shop itself: after every step, taken or refused, the file holds
what the model says.
"""

from __future__ import annotations

from collections import Counter
from concurrent.futures import ProcessPoolExecutor
from multiprocessing import get_context

import pytest
from system.shop_model import play

RUNS = ((1, 35), (2, 35), (3, 10))  # start, and how many shops


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
        runs = [both.submit(play, shops, 320, start) for start, shops in RUNS]
        taken = sum((run.result() for run in runs), Counter[str]())
    print(words(taken))
    assert taken.total() >= 20_000
