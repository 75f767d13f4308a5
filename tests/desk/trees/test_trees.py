"""The shop's trees: usable from label and side, and what is refused of one."""

from __future__ import annotations

import pytest
from support.bench_cast import Pair
from support.cast import Clock

from fitcounter.desk.bench import (
    put_on_turn_up_take_off,
)
from fitcounter.desk.bench.put_on_turn_up_take_off import PutOn
from fitcounter.desk.common.state_changes import StepInput
from fitcounter.desk.shop import Shop
from fitcounter.desk.trees import tree_choice
from fitcounter.desk.trees import trees as bench_trees
from fitcounter.desk.trees.trees import TreeTyped
from fitcounter.errors import BadInput, BadReading
from fitcounter.store import items, trees
from fitcounter.store.database import Act, Store


def test_a_tree_is_usable_from_label_and_side(
    store: Store, choices: Shop, boots: Pair, clock: Clock
) -> None:
    """Five minutes after it was unpacked it may serve, ranked last as not measured; for the other
    side it may not.
    """
    bench_trees.add_tree(store, Act(clock.now), choices, TreeTyped("K9", "left", "M"))

    found = tree_choice.ranked(store, items.get(store, boots.left), "in")
    assert {one.label: one.note for one in found.choices}["K9"] == "not measured yet"
    assert {one.label: one.sentence for one in found.rejected}["5"] == "Made for right boots."


@pytest.mark.parametrize(
    ("typed", "field"),
    [
        (TreeTyped("", "left"), "label"),
        (TreeTyped("4", "left"), "label"),
        (TreeTyped("7", "both"), "side"),
        (TreeTyped("7", "left", closed="15", open="14"), "open"),
        (TreeTyped("7", "left", closed="fifteen"), "closed"),
        (TreeTyped("7", "left", open_setting="many"), "open_setting"),
    ],
)
def test_a_tree_that_cannot_be_is_refused_at_its_field(
    store: Store, choices: Shop, boots: Pair, clock: Clock, typed: TreeTyped, field: str
) -> None:
    """One sentence at the field, nothing stored."""
    with pytest.raises((BadInput, BadReading)) as refused:
        bench_trees.add_tree(store, Act(clock.now), choices, typed)
    assert refused.value.field == field
    assert len(trees.everyone(store)) == 2


def test_a_tree_with_a_boot_on_it_does_not_go_in_repair(
    store: Store, choices: Shop, boots: Pair, clock: Clock
) -> None:
    """First the boot comes off."""
    put_on_turn_up_take_off.put_on(
        store,
        Act(clock.now),
        choices,
        boots.left,
        StepInput(clock.now),
        PutOn("4", before="14 3/8", on_tree="15"),
    )
    tree_id = trees.by_label(store, "4").id  # type: ignore[union-attr]  # it is there
    with pytest.raises(BadInput, match="A boot is on tree 4"):
        bench_trees.set_state(store, Act(clock.now), tree_id, "repair")
