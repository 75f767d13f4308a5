"""What stands for the girth before a round that nobody read anew."""

from __future__ import annotations

from datetime import timedelta

import pytest
from support.bench_cast import Pair, pair, tree

from fitcounter.desk import shop
from fitcounter.desk.bench import put_on_turn_up_take_off
from fitcounter.desk.bench.put_on_turn_up_take_off import PutOn
from fitcounter.desk.common.state_changes import StepInput
from fitcounter.desk.rounds import rested_reading
from fitcounter.desk.rounds.rested_reading import RestedReading
from fitcounter.desk.trees.girth_before_round import last_rested
from fitcounter.store import readings
from fitcounter.store.database import Act, Store

MARK_UM = round(10.5 * 25400)


@pytest.fixture
def boots(store: Store, act: Act) -> Pair:
    """The left boot was on a tree for a week, read before, on it, and rested."""
    tree(store, "4")
    made, off = pair(store, act), act.at + timedelta(days=7)
    told = PutOn("4", mark="10 1/2", before="14 3/8", on_tree="14 15/16")
    here = shop.read(store)
    put_on_turn_up_take_off.put_on(store, act, here, made.left, StepInput(act.at), told)
    put_on_turn_up_take_off.take_off(store, Act(off, act.staff_id), made.left, StepInput(off))
    read_at = off + timedelta(days=2)
    rested_reading.measure_again(
        store,
        Act(read_at, act.staff_id),
        here,
        made.left,
        StepInput(read_at),
        RestedReading("14 5/8"),
    )
    return made


def test_it_is_the_last_counted_rested_reading_by_that_method_at_that_mark(
    store: Store, boots: Pair
) -> None:
    rested = last_rested(store, boots.left, "outside", MARK_UM)
    assert rested is not None
    assert rested.um == round(14.625 * 25400)
    assert last_rested(store, boots.left, "inside", MARK_UM) is None
    assert last_rested(store, boots.left, "outside", MARK_UM + 25400) is None
    assert last_rested(store, boots.right, "outside", MARK_UM) is None


def test_a_boot_measured_again_since_it_came_back_has_none(
    store: Store, act: Act, boots: Pair
) -> None:
    with store.write_tx():
        readings.add_boot(
            store,
            Act(act.at + timedelta(days=60)),
            boots.left,
            "comeback",
            height_um=MARK_UM,
            height_text="10 1/2",
            girth_um=MARK_UM,
            girth_text="10 1/2",
            unit="in",
            method="outside",
            repeat=1,
        )
    assert last_rested(store, boots.left, "outside", MARK_UM) is None
