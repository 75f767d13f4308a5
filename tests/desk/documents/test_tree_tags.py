"""The strip for the wall and the trees' labels name the trees that have a tag, and no other."""

from __future__ import annotations

import pytest
from support.bench_cast import tree
from support.cast import Clock

from fitcounter.desk import shop
from fitcounter.desk.documents import tree_tags as documents_trees
from fitcounter.desk.trees import trees as bench_trees
from fitcounter.errors import NotFound
from fitcounter.store.database import Act, Store


def test_each_tagged_tree_stands_on_the_wall_and_has_a_label(store: Store, clock: Clock) -> None:
    tree(store, "4")
    bench_trees.give_tags(store, Act(clock.now, 1))
    tree(store, "5", "right")
    here = shop.read(store)
    strip = documents_trees.wall_strip(store, here, "https://b.example")
    labels = documents_trees.tree_tags(store, here, "https://b.example").labels
    assert [(one.label, one.side) for one in strip.trees] == [("4", "left")]
    assert [(one.number, one.code) for one in labels] == [("4", strip.trees[0].code)]


def test_without_a_tagged_tree_there_is_nothing_to_print(store: Store) -> None:
    tree(store, "4")
    with pytest.raises(NotFound, match="Bench, Trees"):
        documents_trees.wall_strip(store, shop.read(store), "")
