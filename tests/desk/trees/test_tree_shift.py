"""A tree that sits higher or lower: picked from a list, kept with the round, and what it measured
there belongs further down the tree.
"""

from __future__ import annotations

from typing import Any

import pytest
from support.bench_cast import Pair, pair, tree

from fitcounter.desk import shop
from fitcounter.desk.bench import item_page, put_on_turn_up_take_off
from fitcounter.desk.bench.put_on_turn_up_take_off import PutOn
from fitcounter.desk.common.state_changes import StepInput
from fitcounter.desk.trees import tree_choice_page
from fitcounter.desk.trees import trees as bench_trees
from fitcounter.desk.trees.tree_shift import (
    read_most_um,
    read_shift_um,
    shift_choices,
    shift_words,
)
from fitcounter.desk.trees.trees import BareTreeReading, TreeTyped
from fitcounter.errors import BadInput, BadReading
from fitcounter.store import items, rounds, trees
from fitcounter.store.database import Act, Store


@pytest.fixture
def boots(store: Store, act: Act) -> Pair:
    return pair(store, act)


def on(store: Store, act: Act, boots: Pair, **typed: Any) -> None:
    told = PutOn("4", setting="6", mark="10 1/2", before="14 3/8", on_tree="14 15/16", **typed)
    put_on_turn_up_take_off.put_on(
        store, act, shop.read(store), boots.left, StepInput(act.at), told
    )


def test_a_shift_is_said_in_the_shops_unit() -> None:
    assert shift_words(12.7, "in") == "½ in higher"
    assert shift_words(-20, "cm") == "2.0 cm lower"
    assert shift_words(0, "in") == ""


def test_the_list_runs_from_the_highest_down_in_half_inches_or_centimeters() -> None:
    inches = shift_choices("in")
    assert next(iter(inches.values())) == "1½ in higher"
    assert inches["0"] == "as usual"
    assert inches["-12700"] == "½ in lower"
    assert len(inches) == 7
    assert next(iter(shift_choices("cm"))) == "50000"


def test_a_shift_is_kept_with_the_round_and_calibrates_further_down(
    store: Store, act: Act, boots: Pair
) -> None:
    tree_id = tree(store, "4", shift_most_um=50_000)
    on(store, act, boots, shift="12700")

    (row,) = rounds.of_item(store, boots.left)
    assert row.shift_um == 12_700
    (point,) = trees.calibration(store, tree_id)
    assert point.height_um == round(10.5 * 25_400) - 12_700
    page = item_page.look(store, shop.read(store), boots.left)
    assert "½ in higher" in page.history[0].text


@pytest.mark.parametrize("picked", ["38100", "-38100", "higher", "9" * 30, "12.7", "--12700"])
def test_a_shift_that_the_tree_does_not_take_is_refused(
    store: Store, act: Act, boots: Pair, picked: str
) -> None:
    tree(store, "4", shift_most_um=25_400)
    with pytest.raises(BadInput) as refused:
        on(store, act, boots, shift=picked)
    assert refused.value.field == "shift"
    assert rounds.of_item(store, boots.left) == []


def test_without_a_tree_nothing_is_shifted() -> None:
    assert read_shift_um("", None) == 0
    with pytest.raises(BadInput):
        read_shift_um("12700", None)


def test_how_far_a_tree_may_sit_up_or_down_is_typed_with_it(store: Store, act: Act) -> None:
    here = shop.read(store)
    bench_trees.add_tree(store, act, here, TreeTyped("9", "left", shift_most="1"))
    made = trees.by_label(store, "9")
    assert made is not None
    assert made.shift_most_um == 25_400
    assert read_most_um("", "in") == 0
    with pytest.raises(BadReading, match="At most 1 15/16 in"):
        bench_trees.change_tree(
            store, act, here, made.id, None, TreeTyped("9", "left", shift_most="3")
        )


def test_the_best_shift_is_proposed_where_the_boot_chooses_its_tree(
    store: Store, act: Act, boots: Pair
) -> None:
    """Widest an inch under the tightest place, the tree reaches only when it sits higher."""
    here = shop.read(store)
    tree_id = tree(store, "4", open_setting_milli=12_000, shift_most_um=25_400)
    for height, closed, wide in (
        ("5", "11", "12"),
        ("9 1/2", "13", "15 1/4"),
        ("14 1/2", "12 1/2", "13 3/4"),
    ):
        for setting, girth in (("0", closed), ("12", wide)):
            typed = BareTreeReading(setting, height, girth)
            bench_trees.measure_tree(store, act, here, tree_id, typed)
    page = tree_choice_page.choice_page(store, here, items.get(store, boots.left).id)
    assert any("Set it 1 in higher." in offered.words for offered in page.offered), page
