"""What is looked at before a round opens a boot, and what is asked."""

from __future__ import annotations

import pytest
from support.bench_cast import Pair
from support.cast import Clock

from fitcounter.desk.bench import (
    arrive_done_shelve,
    put_on_turn_up_take_off,
)
from fitcounter.desk.bench.put_on_turn_up_take_off import PutOn
from fitcounter.desk.common.state_changes import StepInput
from fitcounter.desk.rounds.rested_reading import RestedReading, measure_again
from fitcounter.desk.shop import Shop
from fitcounter.errors import BadInput
from fitcounter.store import rounds
from fitcounter.store.database import Act, Store


def a_round(
    store: Store, choices: Shop, clock: Clock, item_id: int, on: PutOn, rested: str
) -> None:
    """One whole round of a week, read a day after."""
    put_on_turn_up_take_off.put_on(
        store, Act(clock.now), choices, item_id, StepInput(clock.now), on
    )
    clock.on(days=7)
    put_on_turn_up_take_off.take_off(store, Act(clock.now), item_id, StepInput(clock.now))
    clock.on(hours=25)
    measure_again(
        store, Act(clock.now), choices, item_id, StepInput(clock.now), RestedReading(rested)
    )


def test_past_what_one_round_may_open_asks_with_the_number(
    store: Store, choices: Shop, boots: Pair, clock: Clock
) -> None:
    """An inch on full-grain leather that may take 15/16 in one round: nothing is saved until a
    reason is picked, which is kept.
    """
    typed = PutOn("4", before="14 3/8", on_tree="15 3/8")
    with pytest.raises(BadInput, match="one round may open 15/16 in") as asked:
        put_on_turn_up_take_off.put_on(
            store, Act(clock.now), choices, boots.left, StepInput(clock.now), typed
        )
    assert asked.value.field == "override_why"
    assert rounds.of_item(store, boots.left) == []

    said = PutOn("4", before="14 3/8", on_tree="15 3/8", override_why="master-looked")
    put_on_turn_up_take_off.put_on(
        store, Act(clock.now), choices, boots.left, StepInput(clock.now), said
    )
    assert rounds.of_item(store, boots.left)[0].override_why == "master-looked"


def test_the_largest_opening_within_the_limit_is_not_asked_about(
    store: Store, choices: Shop, boots: Pair, clock: Clock
) -> None:
    """15/16 in is within the limit; a sixteenth more on turning up is not."""
    put_on_turn_up_take_off.put_on(
        store,
        Act(clock.now),
        choices,
        boots.left,
        StepInput(clock.now),
        PutOn("4", before="14 3/8", on_tree="15 5/16"),
    )
    with pytest.raises(BadInput, match="one round may open 15/16 in"):
        put_on_turn_up_take_off.turn_up(
            store, Act(clock.now), choices, boots.left, StepInput(clock.now), "15 3/8", ""
        )


def test_a_reason_is_one_of_the_list(
    store: Store, choices: Shop, boots: Pair, clock: Clock
) -> None:
    """Anything else is no reason."""
    typed = PutOn("4", before="14 3/8", on_tree="15 3/8", override_why="because")
    with pytest.raises(BadInput, match="Pick a reason to go past the limit"):
        put_on_turn_up_take_off.put_on(
            store, Act(clock.now), choices, boots.left, StepInput(clock.now), typed
        )


def test_the_ceiling_counts_from_the_boot_as_it_came(
    store: Store, choices: Shop, boots: Pair, clock: Clock
) -> None:
    """After a round that kept nearly all, the next opening is held by the ceiling and the sentence
    says so.
    """
    big = PutOn("4", before="14 3/8", on_tree="15 3/16")
    a_round(store, choices, clock, boots.left, big, "15 1/16")
    arrive_done_shelve.another_round(store, Act(clock.now), boots.left, StepInput(clock.now))
    a_round(
        store,
        choices,
        clock,
        boots.left,
        PutOn("4", before="15 1/16", on_tree="15 13/16"),
        "15 11/16",
    )
    arrive_done_shelve.another_round(store, Act(clock.now), boots.left, StepInput(clock.now))

    with pytest.raises(BadInput, match="this leather may give"):
        put_on_turn_up_take_off.put_on(
            store,
            Act(clock.now),
            choices,
            boots.left,
            StepInput(clock.now),
            PutOn("4", before="15 11/16", on_tree="16 3/8"),
        )
