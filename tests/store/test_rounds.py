"""Rounds on the tree and their turns, by boot, by pair and by tree."""

from __future__ import annotations

import pytest
from support.bench_cast import tree
from support.ticket_rows import Job

from fitcounter.store import rounds
from fitcounter.store.database import Store

ON, OFF = "2026-03-17T14:00:00Z", "2026-03-24T14:00:00Z"


def round_of(store: Store, item_id: int, n: int, **columns: object) -> int:
    with store.write_tx():
        return store.insert("rounds", item_id=item_id, n=n, **columns)


def turn_of(store: Store, round_id: int, n: int) -> None:
    with store.write_tx():
        store.insert("turns", round_id=round_id, n=n, at=ON, setting_text=f"{round_id}.{n}")


@pytest.fixture
def tree_id(store: Store) -> int:
    return tree(store, "4")


def test_the_rounds_of_a_pair_come_by_boot_in_their_order(store: Store, job: Job):
    second, first = round_of(store, job.left, 2), round_of(store, job.left, 1)
    other = round_of(store, job.right, 1)
    round_of(store, job.bag, 1)
    found = rounds.of_items(store, (job.left, job.right))
    assert {item: [one.id for one in of] for item, of in found.items()} == {
        job.left: [first, second],
        job.right: [other],
    }
    assert [one.id for one in rounds.of_item(store, job.left)] == [first, second]


def test_the_last_round_is_the_one_with_the_highest_number(store: Store, job: Job):
    assert rounds.last(store, job.left) is None
    newest = round_of(store, job.left, 2)
    round_of(store, job.left, 1)
    last = rounds.last(store, job.left)
    assert last is not None
    assert last.id == newest


def test_turns_come_through_all_rounds_in_the_order_they_were_made(store: Store, job: Job):
    second, first = round_of(store, job.left, 2), round_of(store, job.left, 1)
    for round_id, n in ((second, 1), (first, 2), (first, 1)):
        turn_of(store, round_id, n)
    texts = [f"{first}.1", f"{first}.2", f"{second}.1"]
    assert [one.setting_text for one in rounds.turns_of_item(store, job.left)] == texts
    assert [one.setting_text for one in rounds.turns(store, first)] == texts[:2]
    of_rounds = rounds.turns_of(store, (first, second))
    assert {n: [one.setting_text for one in of] for n, of in of_rounds.items()} == {
        first: texts[:2],
        second: texts[2:],
    }


def test_only_boots_on_a_tree_or_resting_are_at_the_bench_with_their_last_round(
    store: Store, job: Job
):
    round_of(store, job.left, 1)
    running, resting = round_of(store, job.left, 2), round_of(store, job.right, 1)
    round_of(store, job.bag, 1)
    for n in (1, 2):
        turn_of(store, running, n)
    with store.write_tx():
        store.change("items", job.left, state="on-tree")
        store.change("items", job.right, state="resting")
    at_bench = rounds.last_at_bench(store)
    assert {item: (one.id, turns) for item, (one, turns) in at_bench.items()} == {
        job.left: (running, 2),
        job.right: (resting, 0),
    }


def test_a_tree_carries_the_round_that_went_on_and_has_not_come_off(
    store: Store, job: Job, tree_id: int
):
    round_of(store, job.left, 1, tree_id=tree_id, on_at=ON, off_at=OFF)
    assert rounds.on_tree(store, tree_id) is None
    running = round_of(store, job.right, 1, tree_id=tree_id, on_at=ON)
    on_it = rounds.on_tree(store, tree_id)
    assert on_it is not None
    assert on_it.id == running
    assert rounds.other_on_tree(store, tree_id, job.left)
    assert not rounds.other_on_tree(store, tree_id, job.right)
