"""Thousands of requests made to hurt: never 500, never a traceback, what was typed is shown again,
the file changes only on success.
"""

from __future__ import annotations

from concurrent.futures import ProcessPoolExecutor
from multiprocessing import get_context
from pathlib import Path

import pytest
from system.hostile import Tally, attacked

SEED = 20260317
MANY = 21_000
MOST_MB = 250


def holds(tally: Tally, requests: int) -> None:
    """Nothing is broken, and the requests came far enough for that to say something."""
    print(
        f"{tally.codes.total()} requests, {tally.shown} refused forms read for what was typed,"
        f" {tally.busy_s:.0f} s busy, at most {tally.peak_mb:.0f} MB:"
        f" {dict(sorted(tally.codes.items()))}"
    )
    assert tally.broken == []
    assert tally.codes.total() > requests * 0.95
    assert tally.shown > requests // 20
    assert {200, 303, 400, 401, 403, 404, 405, 413, 415, 422} <= set(tally.codes)


def test_four_hundred_hostile_requests_break_nothing(played: Path, tmp_path: Path) -> None:
    """Over every rule, from everybody, with one thing or several wrong."""
    holds(attacked(played, tmp_path / "shop", SEED, 0, 400), 400)


@pytest.mark.slow
def test_twenty_thousand_hostile_requests_break_nothing(played: Path, tmp_path: Path) -> None:
    """The same with other seeds, fifty times as many, on two shops at once."""
    half = MANY // 2
    with ProcessPoolExecutor(2, get_context("spawn")) as pool:
        begun = [
            pool.submit(attacked, played, tmp_path / str(n), SEED + 1 + n, n * half, (n + 1) * half)
            for n in range(2)
        ]
        first, second = (one.result() for one in begun)
    holds(first + second, MANY)
    assert first.peak_mb < MOST_MB > second.peak_mb
