"""The bench at an instant: each boot in the list of what is to be done with it."""

from __future__ import annotations

from support.bench_cast import Pair
from support.cast import Clock

from fitcounter.desk.bench import put_on_turn_up_take_off
from fitcounter.desk.bench.board import Board, board
from fitcounter.desk.bench.put_on_turn_up_take_off import PutOn
from fitcounter.desk.common.state_changes import StepInput
from fitcounter.desk.shop import Shop
from fitcounter.store.database import Act, Store

LISTS = ("turn_up", "off", "read", "decide", "queue", "finish", "waiting", "later", "on")


def lists_of(seen: Board, item_id: int) -> set[str]:
    return {name for name in LISTS if item_id in [entry.row.id for entry in getattr(seen, name)]}


def test_a_boot_stands_where_something_is_to_be_done_with_it(
    store: Store, choices: Shop, boots: Pair, clock: Clock
):
    assert "queue" in lists_of(board(store, choices, clock.now), boots.left)
    told = PutOn("4", before="14 3/8", on_tree="14 11/16")
    act = Act(clock.now, 1)
    put_on_turn_up_take_off.put_on(store, act, choices, boots.left, StepInput(act.at), told)

    now = board(store, choices, clock.now)
    assert "off" not in lists_of(now, boots.left)
    assert {one.tree.label: one.on_it and one.on_it.id for one in now.trees} == {
        "4": boots.left,
        "5": None,
    }
    clock.on(days=8)
    over = board(store, choices, clock.now)
    assert lists_of(over, boots.left) == {"off"}
    assert [entry.tree for entry in over.off] == ["4"]

    act = Act(clock.now, 1)
    put_on_turn_up_take_off.take_off(store, act, boots.left, StepInput(act.at))
    assert lists_of(board(store, choices, clock.now), boots.left) == {"later"}
    clock.on(days=2)
    assert lists_of(board(store, choices, clock.now), boots.left) == {"read"}
