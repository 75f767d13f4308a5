"""What the form of putting a boot on a tree is filled in with."""

from __future__ import annotations

from support.bench_cast import Pair, pair, tree

from fitcounter.desk import shop
from fitcounter.desk.assessment.standing import standing
from fitcounter.desk.bench.put_on_hints import PutOnHints, put_on_hints
from fitcounter.desk.rounds.round_seen import rounds_of
from fitcounter.desk.trees import trees as bench_trees
from fitcounter.desk.trees.trees import BareTreeReading
from fitcounter.store import items
from fitcounter.store.database import Act, Store


def hints(store: Store, boots: Pair) -> PutOnHints:
    item = items.get(store, boots.left)
    seen = rounds_of(store, item.id)
    return put_on_hints(store, shop.read(store), item, seen, standing(store, item))


def test_the_first_round_begins_at_the_girth_the_boot_was_brought_in_with(
    store: Store, act: Act
) -> None:
    """Read outside at the mark already, it is not asked for again; what the tape is to read on the
    tree follows from it.
    """
    found = hints(store, pair(store, act))
    assert (found.before, found.mark, found.by_rested) == ("14 3/8", "10 1/2", False)
    assert found.planned
    assert (found.expected, found.likely_mm) == ("", 365.125)
    assert (found.tree, found.shift_um, found.shift) == ("", 0, "")


def test_the_planned_tree_is_named_with_the_shift_that_serves_best(store: Store, act: Act) -> None:
    boots = pair(store, act)
    tree_id = tree(store, "4", open_setting_milli=12_000, shift_most_um=25_400)
    for height, closed, wide in (
        ("5", "11", "12"),
        ("9 1/2", "13", "15 1/4"),
        ("14 1/2", "12 1/2", "13 3/4"),
    ):
        for setting, girth in (("0", closed), ("12", wide)):
            typed = BareTreeReading(setting, height, girth)
            bench_trees.measure_tree(store, act, shop.read(store), tree_id, typed)
    found = hints(store, boots)
    assert (found.tree, found.shift_um, found.shift) == ("4", 25_400, "1 in higher")
