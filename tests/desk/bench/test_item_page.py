"""An item's page: the one next step, and when it is too early for it."""

from __future__ import annotations

from support.bench_cast import Pair
from support.cast import Clock

from fitcounter.desk.bench import incidents, item_page, put_on_turn_up_take_off
from fitcounter.desk.bench.put_on_turn_up_take_off import PutOn
from fitcounter.desk.common.state_changes import StepInput
from fitcounter.desk.shop import Shop
from fitcounter.store.database import Act, Store


def step_of(store: Store, choices: Shop, item_id: int, clock: Clock) -> str:
    step = item_page.step_now(item_page.look(store, choices, item_id), choices, clock.now)
    return step.name if step else ""


def test_the_next_step_follows_where_the_boot_stands(
    store: Store, choices: Shop, boots: Pair, clock: Clock
):
    assert step_of(store, choices, boots.left, clock) == "prepare"
    told = PutOn("4", before="14 3/8", on_tree="14 11/16", prepared="dry")
    act = Act(clock.now, 1)
    put_on_turn_up_take_off.put_on(store, act, choices, boots.left, StepInput(act.at), told)
    look = item_page.look(store, choices, boots.left)
    assert item_page.comes_off_early(look, choices, clock.now)
    assert step_of(store, choices, boots.left, clock) != "take-off"

    clock.on(days=8)
    look = item_page.look(store, choices, boots.left)
    assert not item_page.comes_off_early(look, choices, clock.now)
    assert step_of(store, choices, boots.left, clock) == "take-off"


def test_what_stopped_it_is_said_and_no_step_is_next(
    store: Store, choices: Shop, boots: Pair, clock: Clock
):
    act = Act(clock.now, 1)
    incidents.stop(store, act, boots.left, StepInput(act.at), "the zipper tore.")
    look = item_page.look(store, choices, boots.left)
    assert (look.stopped_by, look.step) == ("the zipper tore", None)
    assert look.other is not None
    assert look.other.id == boots.right
