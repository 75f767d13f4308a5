"""What the bench sees on a boot: damage stops it and opens a record, a scuff stops nothing."""

from __future__ import annotations

from support.bench_cast import Pair
from support.cast import Clock

from fitcounter.desk.bench import (
    damage_seen_at_bench,
    put_on_turn_up_take_off,
    undo_step,
)
from fitcounter.desk.bench.put_on_turn_up_take_off import PutOn
from fitcounter.desk.common.state_changes import StepInput
from fitcounter.desk.shop import Shop
from fitcounter.fit.assessment.no_further_round import DAMAGE
from fitcounter.store import findings, items
from fitcounter.store.database import Act, Store


def test_every_damage_that_stops_has_words_for_the_bench() -> None:
    """The bench can pick each finding that the stop rules know."""
    assert DAMAGE.keys() <= damage_seen_at_bench.WORDS.keys()


def test_damage_stops_the_boot_and_opens_a_record(
    store: Store, choices: Shop, boots: Pair, clock: Clock
) -> None:
    """Grain whitening on the tree: found, stopped, off its tree, told; and the whole of it is one
    step to take back.
    """
    put_on_turn_up_take_off.put_on(
        store,
        Act(clock.now),
        choices,
        boots.left,
        StepInput(clock.now),
        PutOn("4", before="14 3/8", on_tree="15"),
    )
    clock.on(hours=3)
    damage_seen_at_bench.see(
        store, Act(clock.now), boots.left, StepInput(clock.now), "grain-whitening", "inner calf"
    )

    assert items.get(store, boots.left).state == "stopped"
    assert [one.word for one in findings.of_item(store, boots.left)] == ["grain-whitening"]
    assert findings.incidents_of_item(store, boots.left)[0].what == "grain turning white"

    undo_step.undo(store, Act(clock.now), Shop(), boots.left, items.steps(store, boots.left)[-1].id)
    assert items.get(store, boots.left).state == "on-tree"
    assert findings.of_item(store, boots.left) == []
    assert findings.incidents_of_item(store, boots.left) == []


def test_a_scuff_is_kept_and_stops_nothing(store: Store, boots: Pair, clock: Clock) -> None:
    """What is no damage is written down and the boot stays where it is."""
    damage_seen_at_bench.see(
        store,
        Act(clock.now),
        boots.left,
        StepInput(clock.now),
        "scuffs",
        "toe",
        "was not there before",
    )

    assert items.get(store, boots.left).state == "queued"
    assert (
        findings.of_item(store, boots.left)[0].place,
        findings.incidents_of_item(store, boots.left),
    ) == (
        "toe",
        [],
    )
