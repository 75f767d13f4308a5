"""A boot that goes on a tree booked for another: where the other one goes is said before it moves,
and that is where it goes.
"""

from __future__ import annotations

import re
from dataclasses import replace
from datetime import date

import pytest
from support.bench_cast import Pair, pair, tree
from support.cast import Clock

from fitcounter.desk import shop
from fitcounter.desk.bench import put_on_turn_up_take_off
from fitcounter.desk.bench.put_on_turn_up_take_off import PutOn
from fitcounter.desk.common.state_changes import StepInput
from fitcounter.desk.common.translation import speech
from fitcounter.desk.plan import plan_keeping
from fitcounter.errors import BadInput
from fitcounter.store import bench_days, plans
from fitcounter.store.database import Act, Store

ON = PutOn("4", before="14 3/8", on_tree="14 7/8")


@pytest.fixture
def pairs(store: Store, clock: Clock) -> tuple[Pair, Pair]:
    """Two pairs and one tree a side; the first is planned on them first."""
    tree(store, "4")
    tree(store, "5", "right")
    act = Act(clock.now)
    first, second = pair(store, act), pair(store, act, 42, name="Tobias Renwick")
    with store.write_tx():
        store.change("tickets", first.ticket_id, promise_day="2026-04-07")
        store.change("tickets", second.ticket_id, promise_day="2026-06-27")
    plan_keeping.renew(store, act)
    return first, second


def asked(store: Store, clock: Clock, item_id: int) -> str:
    act = Act(clock.now)
    with pytest.raises(BadInput) as refused:
        put_on_turn_up_take_off.put_on(
            store, act, shop.read(store), item_id, StepInput(clock.now), ON
        )
    assert refused.value.field == "take_tree"
    return refused.value.sentence


def test_whose_booking_moves_where_is_said_and_then_done(
    store: Store, pairs: tuple[Pair, Pair], clock: Clock
):
    first, second = pairs
    sentence = asked(store, clock, second.left)
    assert re.match(r"Tree 4 is booked from \w+, Mar \d+ for Left 41\.", sentence)
    assert "It is promised for Tue, Apr 7." in sentence
    taken = replace(ON, take_tree=True)
    act = Act(clock.now)
    put_on_turn_up_take_off.put_on(
        store, act, shop.read(store), second.left, StepInput(clock.now), taken
    )
    hold = plans.of_item(store, first.left)[0]
    ready = bench_days.everything(store)[first.left].ready_day
    on, off = (speech("en_US").day(date.fromisoformat(day)) for day in (hold.from_day, ready or ""))
    assert f"Left 41 then goes on tree 4 on {on} and could be ready {off}." in sentence


def test_no_other_tree_at_all_is_said(store: Store, pairs: tuple[Pair, Pair], clock: Clock):
    """Kept for boots at home from the day it comes off on, for longer than the plan looks."""
    first, second = pairs
    with store.write_tx():
        taken = {"tree_id": 1, "words": "Ada", "round_n": 1, "to_day": "2027-12-31"}
        plans.drop_planned(store, second.left)
        store.db.execute("DELETE FROM bookings WHERE item_id = ? AND round_n > 1", [first.left])
        store.insert("bookings", **taken, kind="slot", from_day="2026-03-27")
    assert "No tree is free for Left 41 then." in asked(store, clock, second.left)
