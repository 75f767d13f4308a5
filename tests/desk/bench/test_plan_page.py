"""The plan as a page: on a closed day, and who is late and why."""

from __future__ import annotations

import re

import pytest
from support.bench_cast import Pair, tagged_pair
from support.cast import Clock, Counter

from fitcounter.store.database import Act, Store


@pytest.fixture
def boots(store: Store, clock: Clock) -> Pair:
    return tagged_pair(store, Act(clock.now))


def test_on_a_closed_day_the_plan_says_when_work_goes_on(
    bench: Counter, boots: Pair, clock: Clock
) -> None:
    assert "No work at the bench today" not in bench.get("/bench/plan").text
    clock.on(days=(6 - clock.now.weekday()) % 7)  # a Sunday; open again on Tuesday
    page = bench.get("/bench/plan").text
    assert re.search(r"No work at the bench today. It goes on Tuesday, \w+ \d+\.", page)


def test_late_and_why(bench: Counter, store: Store, boots: Pair) -> None:
    """A promise that cannot be kept is listed with the days and the reason, and what would help on
    asking.
    """
    with store.write_tx():
        store.db.execute("UPDATE tickets SET promise_day = '2026-03-28'")
    page = bench.get("/bench/plan").text
    assert re.search(
        r"Promised Saturday, March 28, ready \w+, \w+ \d+\. \d rounds? still to do\.",
        page,
    )

    helped = bench.get("/bench/plan?ask=1").text
    assert re.search(r"Leave on \d+ h instead: \d+ days? sooner", helped)
