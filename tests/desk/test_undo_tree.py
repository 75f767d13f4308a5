"""Taking back "off the tree" when its tree has another boot on it by now."""

from __future__ import annotations

import pytest
from bench_cast import pair, tree
from cast import Clock

from fitcounter.desk import bench_ends, bench_steps, shop
from fitcounter.desk.bench_steps import PutOn
from fitcounter.desk.stepping import Said
from fitcounter.errors import Conflict
from fitcounter.store import items
from fitcounter.store.database import Act, Store


def test_two_boots_are_never_on_one_tree_by_taking_a_step_back(store: Store, clock: Clock):
    """The first hold is over before the second begins, so that their days do not touch; the first boot stays off."""
    tree(store, "4")
    first, second = pair(store, Act(clock.now)), pair(store, Act(clock.now), 42, name="Tobias Renwick")
    on, choices = PutOn("4", before="14 3/8", on_tree="15"), shop.read(store)
    bench_steps.put_on(store, Act(clock.now), choices, first.left, Said(clock.now), on)
    clock.on(days=9)
    bench_steps.take_off(store, Act(clock.now), first.left, Said(clock.now))
    bench_steps.put_on(store, Act(clock.now), choices, second.left, Said(clock.now), on)
    with pytest.raises(Conflict, match="Another boot is on its tree"):
        bench_ends.undo(store, Act(clock.now), first.left, items.steps(store, first.left)[-1].id)
    assert [items.get(store, one).state for one in (first.left, second.left)] == ["resting", "on-tree"]
