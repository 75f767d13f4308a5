"""What a measured boot's two ways on are said to mean."""

from __future__ import annotations

from datetime import date

import pytest
from support.bench_cast import Pair
from support.cast import Counter
from support.item_steps import step

from fitcounter.desk import shop
from fitcounter.desk.bench import item_page
from fitcounter.desk.bench.another_round_or_done import Decision, decision
from fitcounter.store.database import Store


@pytest.fixture
def measured(bench: Counter, boots: Pair) -> Pair:
    """The left boot after its first round, measured."""
    typed = {"tree": "4", "before": "14 3/8", "on_tree": "14 7/8"}
    assert step(bench, boots.left, "put-on", **typed) == 303
    bench.clock.on(days=7)
    assert step(bench, boots.left, "take-off") == 303
    bench.clock.on(hours=25)
    assert step(bench, boots.left, "measure-again", rested="14 5/8") == 303
    return boots


def asked(store: Store, item_id: int, today: date) -> Decision | None:
    choices = shop.read(store)
    return decision(store, choices, item_page.look(store, choices, item_id), today)


def test_the_better_way_stands_first_with_its_tree_days_and_odds(
    store: Store, measured: Pair
) -> None:
    found = asked(store, measured.left, date(2026, 3, 25))
    assert found is not None
    assert found.lead == "Kept ¼ in of ½ in (estimate: about a third). 13/16 in short at 10 1/2."
    assert [way.step.name for way in found.ways] == ["another-round", "done"]
    assert found.ways[0].words.startswith("Tree 4 from today until Wed, Apr 1. Could be ready ")
    assert found.ways[1].words == "Could be ready Thu, Mar 26."


def test_without_a_tree_or_a_plan_it_says_so_and_names_no_day(store: Store, measured: Pair) -> None:
    with store.write_tx():
        store.db.execute("DELETE FROM bookings WHERE kind = 'planned'")
        store.db.execute("DELETE FROM bench_days")
    found = asked(store, measured.left, date(2026, 3, 25))
    assert found is not None
    assert found.ways[0].words == (
        "No tree is booked for it yet. Most likely two rounds, perhaps one."
    )


def test_done_falls_on_a_day_the_shop_is_open_after_the_work_that_is_left(
    store: Store, measured: Pair
) -> None:
    with store.write_tx():
        store.insert("closures", from_day="2026-03-26", to_day="2026-03-28", kind="closed")
    found = asked(store, measured.left, date(2026, 3, 25))
    assert found is not None
    assert found.ways[1].words == "Could be ready Tue, Mar 31."


def test_a_boot_that_is_not_to_be_decided_has_no_decision(store: Store, measured: Pair) -> None:
    assert asked(store, measured.right, date(2026, 3, 25)) is None
