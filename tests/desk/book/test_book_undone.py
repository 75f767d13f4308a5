"""A rested reading that is taken back teaches nothing any more, also when another boot was read
since; a finish that is taken back changes nothing of what was read.
"""

from __future__ import annotations

from support.bench_cast import pair, tree
from support.cast import Clock

from fitcounter.desk import shop
from fitcounter.desk.assessment import learnt_from_own_boots
from fitcounter.desk.bench import (
    arrive_done_shelve,
    put_on_turn_up_take_off,
    undo_step,
)
from fitcounter.desk.bench.put_on_turn_up_take_off import PutOn
from fitcounter.desk.common.state_changes import StepInput
from fitcounter.desk.rounds.rested_reading import RestedReading, measure_again
from fitcounter.store import items
from fitcounter.store.database import Act, Store


def finished(store: Store, clock: Clock, number: int, label: str) -> int:
    """A boot after one round, done stretching."""
    tree(store, label)
    boot, choices = (
        pair(store, Act(clock.now), number, name=f"Customer {number}").left,
        shop.read(store),
    )
    on = PutOn(label, before="14 3/8", on_tree="15")
    put_on_turn_up_take_off.put_on(store, Act(clock.now), choices, boot, StepInput(clock.now), on)
    put_on_turn_up_take_off.take_off(store, Act(clock.on(days=7)), boot, StepInput(clock.now))
    measure_again(
        store, Act(clock.on(days=2)), choices, boot, StepInput(clock.now), RestedReading("14 11/16")
    )
    arrive_done_shelve.done(store, Act(clock.now), boot, StepInput(clock.now))
    return boot


def test_a_reading_that_is_taken_back_leaves_the_book_at_once(store: Store, clock: Clock):
    first, _ = finished(store, clock, 41, "4"), finished(store, clock, 42, "6")
    assert learnt_from_own_boots.records(store)["full-grain"].boots == 2
    undo_step.undo(store, Act(clock.now), shop.read(store), first, items.steps(store, first)[-1].id)
    assert learnt_from_own_boots.records(store)["full-grain"].boots == 2
    undo_step.undo(store, Act(clock.now), shop.read(store), first, items.steps(store, first)[-2].id)
    assert learnt_from_own_boots.records(store)["full-grain"].boots == 1
