"""Boot trees as rows, and the girths that were read of them."""

from __future__ import annotations

import pytest
from support.bench_cast import tree

from fitcounter.errors import NotFound
from fitcounter.store import trees
from fitcounter.store.database import Store


def read(store: Store, tree_id: int, girth_um: int) -> int:
    with store.write_tx():
        return store.insert(
            "tree_calibration",
            tree_id=tree_id,
            setting_milli=1000,
            height_um=300_000,
            girth_um=girth_um,
            source="bare",
            read_at="2026-03-17T14:00:00Z",
        )


def test_trees_come_in_the_order_of_their_numbers_and_retired_ones_apart(store: Store):
    ids = {label: tree(store, label) for label in ("10", "9", "2")}
    with store.write_tx():
        store.change("trees", ids["9"], state="retired")
    assert [one.label for one in trees.everyone(store)] == ["2", "10"]
    assert [one.label for one in trees.retired(store)] == ["9"]


def test_a_tree_is_found_by_its_label_in_capitals_or_not(store: Store):
    tree_id = tree(store, "L4")
    found = trees.by_label(store, "l4")
    assert found is not None
    assert found.id == tree_id
    assert trees.by_label(store, "l") is None


def test_a_tree_that_is_not_there_is_not_found(store: Store):
    with pytest.raises(NotFound):
        trees.get(store, 99)


def test_what_was_read_of_each_tree_stays_with_it_in_the_order_it_was_read(store: Store):
    first, second = tree(store, "1"), tree(store, "2")
    for tree_id, girth_um in ((first, 360_000), (second, 380_000), (first, 350_000)):
        read(store, tree_id, girth_um)
    assert [one.girth_um for one in trees.calibration(store, first)] == [360_000, 350_000]
    found = {
        tree_id: [point.girth_um for point in points]
        for tree_id, points in trees.all_calibration(store).items()
    }
    assert found == {first: [360_000, 350_000], second: [380_000]}


def test_a_reading_is_taken_away_from_its_own_tree_only(store: Store):
    first, second = tree(store, "1"), tree(store, "2")
    point = read(store, first, 360_000)
    with store.write_tx():
        trees.strike_reading(store, second, point)
    assert len(trees.calibration(store, first)) == 1
    with store.write_tx():
        trees.strike_reading(store, first, point)
    assert trees.calibration(store, first) == []
