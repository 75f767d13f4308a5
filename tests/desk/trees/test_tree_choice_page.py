"""Which tree, and why: every tree is shown with what it would do."""

from __future__ import annotations

import pytest
from support.bench_cast import Pair
from support.cast import Clock

from fitcounter.desk.shop import Shop
from fitcounter.desk.trees import trees as bench_trees
from fitcounter.desk.trees.tree_choice_page import choice_page
from fitcounter.desk.trees.trees import BareTreeReading, TreeTyped
from fitcounter.store import trees
from fitcounter.store.database import Act, Store


@pytest.mark.parametrize(
    ("leather", "wide", "said"),
    [
        ("full-grain", 17.0, "this tree alone needs 1 round."),
        ("firm-full-grain", 14.5, "this tree alone is not enough."),
    ],
)
def test_which_tree_says_how_far_that_tree_alone_would_get(
    store: Store, choices: Shop, boots: Pair, clock: Clock, leather: str, wide: float, said: str
) -> None:
    """Opened all the way every time: a wide tree in one round; one that reaches what firm leather
    may take in this round, and no further, never.
    """
    with store.write_tx():
        store.change("items", boots.left, material=leather)
    bench_trees.add_tree(
        store, Act(clock.now), choices, TreeTyped("only", "left", open_setting="12")
    )
    tree_id = trees.by_label(store, "only").id  # type: ignore[union-attr]  # just added
    for height, closed, open_in in (
        ("6 1/2", 11.0, 12.0),
        ("10 1/2", 13.0, wide),
        ("14 1/2", 12.5, 14.0),
    ):
        for setting, girth in (("0", closed), ("12", open_in)):
            bench_trees.measure_tree(
                store,
                Act(clock.now),
                choices,
                tree_id,
                BareTreeReading(setting, height, f"{girth}"),
            )
    words = {one.choice.label: one.words for one in choice_page(store, choices, boots.left).offered}
    assert words["only"].endswith(said), words
