"""Thousands of requests made to hurt: never 500, never a traceback, what was typed is shown again, the file changes only on success."""

from __future__ import annotations

import time

import pytest
from hostile import Attack
from whole_shop import WholeShop

SEED = 20260317


def attack(shop: WholeShop, requests: int, seed: int) -> str:
    shop.app.config["PROPAGATE_EXCEPTIONS"] = False
    begun, busy = time.monotonic(), time.process_time()
    one = Attack(shop, seed)
    tally = one.run(requests)
    words = f"{tally.codes.total()} requests (seed {seed}) in {time.monotonic() - begun:.0f} s, {time.process_time() - busy:.0f} s of it busy: {dict(sorted(tally.codes.items()))}"
    assert tally.broken == [], words
    assert tally.shown > requests // 100, words
    assert {200, 303, 400, 401, 403, 404, 405, 413, 415, 422} <= set(tally.codes), words
    return words


def test_four_hundred_hostile_requests_break_nothing(whole: WholeShop) -> None:
    """Over every rule, from everybody, with one thing or several wrong."""
    print(attack(whole, 400, SEED))


@pytest.mark.slow
def test_twenty_thousand_hostile_requests_break_nothing(whole: WholeShop) -> None:
    """The same with another seed, fifty times as many."""
    print(attack(whole, 21_000, SEED + 1))
