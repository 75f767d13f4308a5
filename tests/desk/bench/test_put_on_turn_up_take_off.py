"""The steps of one round: what a boot on its tree teaches, and what is refused."""

from __future__ import annotations

import pytest
from support.bench_cast import Pair, tree
from support.cast import Clock

from fitcounter.desk.bench import (
    put_on_turn_up_take_off,
    undo_step,
)
from fitcounter.desk.bench.put_on_turn_up_take_off import PutOn
from fitcounter.desk.common.state_changes import StepInput
from fitcounter.desk.shop import Shop
from fitcounter.errors import BadInput
from fitcounter.store import items, trees
from fitcounter.store.database import Act, Store


def test_every_reading_on_a_boot_measures_the_tree(
    store: Store, choices: Shop, boots: Pair, clock: Clock
) -> None:
    """Two settings of one round give two inside girths of the tree; taking the step back strikes
    its reading.
    """
    tree_id = trees.by_label(store, "4").id  # type: ignore[union-attr]  # it is there
    put_on_turn_up_take_off.put_on(
        store,
        Act(clock.now),
        choices,
        boots.left,
        StepInput(clock.now),
        PutOn("4", "6", "14 7/8", "14 3/8"),
    )
    clock.on(hours=4)
    put_on_turn_up_take_off.turn_up(
        store, Act(clock.now), choices, boots.left, StepInput(clock.now), "15 1/8", "8"
    )

    points = trees.calibration(store, tree_id)
    assert [(one.setting_milli, one.source) for one in points] == [
        (6000, "on-boot"),
        (8000, "on-boot"),
    ]
    assert points[1].girth_um - points[0].girth_um == pytest.approx(6350, abs=1)
    assert points[0].girth_um == pytest.approx(
        377825 - 2 * 3.14159265 * 2200, abs=1
    )  # 14 7/8 in less 2π times the wall

    undo_step.undo(store, Act(clock.now), Shop(), boots.left, items.steps(store, boots.left)[-1].id)
    assert len(trees.calibration(store, tree_id)) == 1


def test_a_tree_too_small_says_both_girths(
    store: Store, choices: Shop, boots: Pair, clock: Clock
) -> None:
    """Wide open it is less than the boot inside already."""
    tree(store, "tiny", open_um=330_000)
    with pytest.raises(
        BadInput,
        match=(r"Tree tiny is too small: 13 in wide open\. The boot is 13.* in inside already"),
    ):
        put_on_turn_up_take_off.put_on(
            store,
            Act(clock.now),
            choices,
            boots.left,
            StepInput(clock.now),
            PutOn("tiny", before="14 3/8"),
        )
