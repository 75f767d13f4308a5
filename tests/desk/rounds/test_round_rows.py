"""The rows of a round: which readings count, in which unit they were typed."""

from __future__ import annotations

import pytest
from support.bench_cast import Pair
from support.cast import Clock

from fitcounter.desk.assessment.standing import standing
from fitcounter.desk.bench import (
    put_on_turn_up_take_off,
)
from fitcounter.desk.bench.put_on_turn_up_take_off import PutOn
from fitcounter.desk.common.state_changes import StepInput
from fitcounter.desk.rounds.rested_reading import RestedReading, measure_again
from fitcounter.desk.shop import Shop
from fitcounter.errors import BadInput, BadReading
from fitcounter.store import items, rounds
from fitcounter.store.database import Act, Store


def test_two_methods_in_one_round_give_no_kept_fraction(
    store: Store, choices: Shop, boots: Pair, clock: Clock
) -> None:
    """Read outside before and inside rested: the reading is kept, the boot's own rounds teach
    nothing from it.
    """
    put_on_turn_up_take_off.put_on(
        store,
        Act(clock.now),
        choices,
        boots.left,
        StepInput(clock.now),
        PutOn("4", before="14 3/8", on_tree="15"),
    )
    clock.on(days=7)
    put_on_turn_up_take_off.take_off(store, Act(clock.now), boots.left, StepInput(clock.now))
    clock.on(hours=25)
    measure_again(
        store,
        Act(clock.now),
        choices,
        boots.left,
        StepInput(clock.now),
        RestedReading("14 1/8", "inside"),
    )

    found = standing(store, items.get(store, boots.left))
    assert rounds.of_item(store, boots.left)[0].rested_method == "inside"
    assert found is not None
    assert all(turn.kept is None for turn in found.case.rounds)


def test_a_flat_reading_counts_twice(
    store: Store, choices: Shop, boots: Pair, clock: Clock
) -> None:
    """Half an inch wider laid flat is an inch of girth: past the limit."""
    typed = PutOn("4", before="7 1/8", on_tree="7 5/8", method="flat")
    with pytest.raises(BadInput, match="This opens the boot 1 in"):
        put_on_turn_up_take_off.put_on(
            store, Act(clock.now), choices, boots.left, StepInput(clock.now), typed
        )


@pytest.mark.parametrize(
    ("typed", "field"),
    [
        (PutOn("4", before="14 3/8", on_tree="380", override_why="master-looked"), "on_tree"),
        (PutOn("4", before="365", on_tree="15"), "before"),
        (PutOn("4", before="14 3/8", on_tree="15", mark="40"), "mark"),
    ],
)
def test_a_length_in_another_unit_is_said_at_its_field(
    store: Store, choices: Shop, boots: Pair, clock: Clock, typed: PutOn, field: str
) -> None:
    """380 where inches are typed is millimetres, and no mark is forty inches up: one sentence,
    nothing stored, no reason lets it through.
    """
    with pytest.raises(BadReading, match="the tape and the unit") as refused:
        put_on_turn_up_take_off.put_on(
            store, Act(clock.now), choices, boots.left, StepInput(clock.now), typed
        )
    assert refused.value.field == field
    assert rounds.of_item(store, boots.left) == []
