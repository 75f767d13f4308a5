"""Taking a bench step back: what it may not undo, and which days its tree is claimed for then."""

from __future__ import annotations

from datetime import UTC, datetime

import pytest
from support.bench_cast import pair, tree
from support.cast import Clock

from fitcounter.desk import shop
from fitcounter.desk.bench import (
    incidents,
    put_on_turn_up_take_off,
    undo_step,
)
from fitcounter.desk.bench.put_on_turn_up_take_off import PutOn
from fitcounter.desk.common.state_changes import StepInput
from fitcounter.errors import Conflict
from fitcounter.store import findings, items, plans
from fitcounter.store.database import Act, Store


def test_two_boots_are_never_on_one_tree_by_taking_a_step_back(store: Store, clock: Clock):
    """The first hold is over before the second begins, so that their days do not touch; the first
    boot stays off.
    """
    tree(store, "4")
    first, second = (
        pair(store, Act(clock.now)),
        pair(store, Act(clock.now), 42, name="Tobias Renwick"),
    )
    on, choices = PutOn("4", before="14 3/8", on_tree="15"), shop.read(store)
    put_on_turn_up_take_off.put_on(
        store, Act(clock.now), choices, first.left, StepInput(clock.now), on
    )
    clock.on(days=9)
    put_on_turn_up_take_off.take_off(store, Act(clock.now), first.left, StepInput(clock.now))
    put_on_turn_up_take_off.put_on(
        store, Act(clock.now), choices, second.left, StepInput(clock.now), on
    )
    with pytest.raises(Conflict, match="Another boot is on that tree"):
        undo_step.undo(
            store,
            Act(clock.now),
            shop.read(store),
            first.left,
            items.steps(store, first.left)[-1].id,
        )
    assert [items.get(store, one).state for one in (first.left, second.left)] == [
        "resting",
        "on-tree",
    ]


def running_days(store: Store, item_id: int) -> list[tuple[str, str]]:
    """First and last day of the tree's booking for the round that runs."""
    bookings = plans.of_item(store, item_id)
    return [(one.from_day, one.to_day) for one in bookings if one.kind == "running"]


def test_a_step_taken_back_in_the_evening_claims_the_tree_for_the_shops_own_days(
    store: Store, clock: Clock
):
    """Half past nine in New York is the next day in UTC; the claim is the one that putting on had
    made.
    """
    clock.now = datetime(2026, 3, 18, 1, 30, tzinfo=UTC)
    tree(store, "4")
    boots, choices = pair(store, Act(clock.now)), shop.read(store)
    put_on_turn_up_take_off.put_on(
        store,
        Act(clock.now),
        choices,
        boots.left,
        StepInput(clock.now),
        PutOn("4", before="14 3/8", on_tree="15"),
    )
    claimed = running_days(store, boots.left)
    put_on_turn_up_take_off.take_off(
        store, Act(clock.now), boots.left, StepInput(clock.on(minutes=5))
    )
    undo_step.undo(
        store, Act(clock.now), choices, boots.left, items.steps(store, boots.left)[-1].id
    )
    assert claimed == [("2026-03-17", "2026-03-24")]
    assert running_days(store, boots.left) == claimed


def test_what_was_agreed_about_damage_does_not_go_with_a_step_taken_back(
    store: Store, clock: Clock
):
    boots, act = pair(store, Act(clock.now)), Act(clock.now)
    incidents.stop(store, act, boots.left, StepInput(clock.now), "a seam burst")
    record = findings.incidents_of_item(store, boots.left)[0]
    typed = incidents.IncidentInput(True, "we pay half", False, record.version)
    incidents.settle(store, act, record.id, typed)
    with pytest.raises(Conflict, match="already says what was told or agreed"):
        undo_step.undo(
            store, act, shop.read(store), boots.left, items.steps(store, boots.left)[-1].id
        )
    assert findings.incidents_of_item(store, boots.left)[0].agreed == "we pay half"
    assert items.get(store, boots.left).state == "stopped"
