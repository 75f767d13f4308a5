"""The stored bench: what a round may open, which tree serves it, what the plan reserves and who it
makes late.
"""

from __future__ import annotations

import pytest
from support.bench_cast import Pair
from support.cast import Clock

from fitcounter.desk.bench import (
    put_on_turn_up_take_off,
)
from fitcounter.desk.bench.put_on_turn_up_take_off import PutOn
from fitcounter.desk.common.state_changes import StepInput
from fitcounter.desk.rounds.rested_reading import RestedReading, measure_again
from fitcounter.desk.shop import Shop
from fitcounter.desk.trees import tree_choice
from fitcounter.desk.trees import trees as bench_trees
from fitcounter.desk.trees.trees import BareTreeReading, TreeTyped
from fitcounter.errors import BadReading
from fitcounter.store import items, rounds, trees
from fitcounter.store.database import Act, Store


def test_a_measured_tree_is_ranked_by_what_it_does_along_the_shaft(
    store: Store, choices: Shop, boots: Pair, clock: Clock
) -> None:
    """One tree opens where it is wanted; one that opens the ankle too is rejected with the height
    and the number.
    """
    for label, at_ankle in (("good", 12.0), ("ankle", 14.5)):
        bench_trees.add_tree(
            store, Act(clock.now), choices, TreeTyped(label, "left", open_setting="12")
        )
        tree_id = trees.by_label(store, label).id  # type: ignore[union-attr]  # just added
        for height, closed, wide in (
            ("6 1/2", 11.0, at_ankle),
            ("10 1/2", 13.0, 15.5),
            ("14 1/2", 12.5, 14.0),
        ):
            for setting, girth in (("0", closed), ("12", wide)):
                bench_trees.measure_tree(
                    store,
                    Act(clock.now),
                    choices,
                    tree_id,
                    BareTreeReading(setting, height, f"{girth}"),
                )

    found = tree_choice.ranked(store, items.get(store, boots.left), "in")
    assert found.choices[0].label == "good"
    assert found.choices[0].setting is not None
    assert "At 6½ in" in {one.label: one.sentence for one in found.rejected}["ankle"]


def test_a_rested_reading_wider_than_on_the_tree_is_asked_about_once(
    store: Store, choices: Shop, boots: Pair, clock: Clock
) -> None:
    """Leather goes back when it comes off: an inch more than on the tree is a slip, unless it was
    read twice.
    """
    put_on_turn_up_take_off.put_on(
        store,
        Act(clock.now),
        choices,
        boots.left,
        StepInput(clock.now),
        PutOn("4", before="14 3/8", on_tree="15"),
    )
    clock.on(days=7)
    put_on_turn_up_take_off.take_off(store, Act(clock.now), boots.left, StepInput(clock.now))
    clock.on(hours=25)
    with pytest.raises(BadReading, match="1 in more than the 15 in on the tree") as asked:
        measure_again(
            store, Act(clock.now), choices, boots.left, StepInput(clock.now), RestedReading("16")
        )
    assert asked.value.field == "tape_right"
    assert rounds.of_item(store, boots.left)[0].rested_um is None
    measure_again(
        store,
        Act(clock.now),
        choices,
        boots.left,
        StepInput(clock.now),
        RestedReading("16", tape_right=True),
    )
    assert rounds.of_item(store, boots.left)[0].rested_um == 406_400


def test_a_reading_too_early_is_said_to_be_kept_and_not_to_count(
    store: Store, choices: Shop, boots: Pair, clock: Clock
) -> None:
    """An hour off the tree: the answer to the save says so, not only the history."""
    put_on_turn_up_take_off.put_on(
        store,
        Act(clock.now),
        choices,
        boots.left,
        StepInput(clock.now),
        PutOn("4", before="14 3/8", on_tree="15"),
    )
    clock.on(days=7)
    put_on_turn_up_take_off.take_off(store, Act(clock.now), boots.left, StepInput(clock.now))
    clock.on(hours=1)
    said = measure_again(
        store, Act(clock.now), choices, boots.left, StepInput(clock.now), RestedReading("14 7/8")
    )
    assert said.words == "Measured too early: saved, but it does not count"
    clock.on(hours=24)
    assert (
        measure_again(
            store,
            Act(clock.now),
            choices,
            boots.left,
            StepInput(clock.now),
            RestedReading("14 3/4"),
        ).words
        == "to decide"
    )
