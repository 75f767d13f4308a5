"""What a plan is made from is asked for by what is open: it costs the same however old the shop."""

from __future__ import annotations

import pytest

from fitcounter.store import bench_days, items, outcomes
from fitcounter.store.database import Store

GROWS = ("items", "fits", "tickets", "rounds", "steps", "boot_readings", "leg_readings")


def asked(store: Store, question) -> list[str]:
    """How SQLite finds the rows of every statement that the question runs."""
    statements: list[str] = []
    store.db.conn.set_trace_callback(statements.append)
    try:
        question(store)
    finally:
        store.db.conn.set_trace_callback(None)
    ways = []
    for sql in statements:
        ways += [row[3] for row in store.db.conn.execute(f"EXPLAIN QUERY PLAN {sql}")]
    return ways


@pytest.mark.parametrize(
    "question",
    [
        items.open_boots,
        bench_days.stamps,
        outcomes.rounds_stamp,
        lambda store: bench_days.fingerprint(store, ("queued", "on-tree")),
    ],
    ids=["open boots", "their stamps", "the rounds that teach", "the whole fingerprint"],
)
def test_no_question_of_the_plan_walks_a_table_that_grows_with_the_years(store: Store, question):
    ways = asked(store, question)
    assert ways
    names = {*GROWS, *"iftrm"}
    walks = [
        way
        for way in ways
        if way.startswith("SCAN ") and way.split()[1] in names and "items_state" not in way
    ]
    assert walks == []
