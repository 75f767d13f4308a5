"""What a person would do next where the tree in hand will not do for the boot."""

from __future__ import annotations

from support.bench_cast import Pair, pair, tree
from support.cast import Clock, Counter
from support.item_steps import step

from fitcounter.desk import shop
from fitcounter.desk.bench.another_boot_on_the_tree import MOST_OTHERS, tree_taken
from fitcounter.store.database import Act, Store

ON = {"before": "14 3/8", "on_tree": "14 7/8"}


def test_it_names_the_boot_on_it_and_the_free_trees_that_serve(
    bench: Counter, store: Store, boots: Pair, clock: Clock
) -> None:
    other = pair(store, Act(clock.now), 42, name="Tobias Renwick")
    for label in ("6", "7", "8", "9"):
        tree(store, label)
    tree(store, "12", "right")
    assert step(bench, boots.left, "put-on", tree="4", **ON) == 303
    found = tree_taken(store, shop.read(store), other.left, " 4 ", clock.now)
    assert found is not None
    assert found.on_it is not None
    assert found.on_it.id == boots.left
    assert len(found.others) == MOST_OTHERS
    assert set(found.others) <= {"6", "7", "8", "9"}


def test_a_free_tree_has_nobody_on_it_and_an_unknown_label_is_typed_again(
    store: Store, boots: Pair, clock: Clock
) -> None:
    choices = shop.read(store)
    found = tree_taken(store, choices, boots.left, "4", clock.now)
    assert found is not None
    assert found.on_it is None
    assert found.others == (), "there is no other left tree"
    assert tree_taken(store, choices, boots.left, "nine", clock.now) is None
