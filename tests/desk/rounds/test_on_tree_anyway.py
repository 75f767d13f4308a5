"""A boot that is on a tree which its figures keep it off: saved as it is, with a reason."""

from __future__ import annotations

from support.bench_cast import Pair, tree
from support.cast import Counter
from support.item_steps import step

from fitcounter.store import items, rounds, trees
from fitcounter.store.database import Store


def test_it_is_on_anyway_is_saved_with_its_reason_and_calibrates_the_tree(
    bench: Counter, store: Store, boots: Pair
) -> None:
    """Its saved girths say that it is too small; the boot is on it. Undone, they are as before."""
    tree_id = tree(store, "tiny", open_um=330_000)
    typed = {"tree": "tiny", "before": "14 3/8", "on_tree": "14 7/8", "setting": "9"}

    assert step(bench, boots.left, "put-on", **typed) == 422
    page = " ".join(bench.pages[-1].split())
    assert "Tree tiny is too small" in page
    assert "It is on anyway</span><small>The tree’s saved girths are wrong" in page
    assert rounds.of_item(store, boots.left) == []
    assert step(bench, boots.left, "put-on", **typed, on_anyway="because") == 422

    assert step(bench, boots.left, "put-on", **typed, on_anyway="tree-wrong") == 303
    (turn,) = rounds.of_item(store, boots.left)
    assert (turn.tree_id, turn.override_why) == (tree_id, "tree-wrong")
    open_um = trees.get(store, tree_id).open_um
    assert open_um is not None
    assert open_um > 330_000
    on_boot = [(one.setting_milli, one.source) for one in trees.calibration(store, tree_id)]
    assert sorted(on_boot) == [(0, "on-boot"), (9000, "on-boot")]
    page = bench.get(f"/items/{boots.left}").text
    assert "on anyway: the tree’s saved girths are wrong" in page
    assert step(bench, boots.left, "undo", step_id=items.steps(store, boots.left)[-1].id) == 303
    assert trees.get(store, tree_id).open_um == 330_000
    assert trees.calibration(store, tree_id) == []


def test_a_boot_whose_own_readings_are_wrong_says_nothing_of_the_tree(
    bench: Counter, store: Store, boots: Pair
) -> None:
    tree_id = tree(store, "tiny", open_um=330_000)
    typed = {"tree": "tiny", "before": "14 3/8", "on_tree": "14 7/8", "on_anyway": "boot-wrong"}
    assert step(bench, boots.left, "put-on", **typed) == 303
    assert trees.get(store, tree_id).open_um == 330_000
    assert trees.calibration(store, tree_id) == []
