"""An item's history as lines: what, when, when it was saved, and by whom."""

from __future__ import annotations

from datetime import timedelta

from support.bench_cast import Pair

from fitcounter.desk.bench import put_on_turn_up_take_off
from fitcounter.desk.bench.item_history import lines
from fitcounter.desk.bench.put_on_turn_up_take_off import PutOn
from fitcounter.desk.common.catch_up import catch_up
from fitcounter.desk.common.state_changes import StepInput
from fitcounter.desk.shop import Shop
from fitcounter.store import items
from fitcounter.store.database import Act, Store


def test_newest_first_with_person_reading_and_both_times(
    store: Store, choices: Shop, boots: Pair, act: Act
):
    put_on_turn_up_take_off.prepare(store, act, boots.left, StepInput(act.at), "dry", "")
    on_at = act.at + timedelta(hours=1)
    later = Act(on_at + timedelta(hours=1), act.staff_id)
    told = PutOn("4", before="14 3/8", on_tree="14 11/16")
    put_on_turn_up_take_off.put_on(store, later, choices, boots.left, StepInput(on_at), told)

    on, prepared = lines(items.steps(store, boots.left), {1: "Cora"}, "in")
    assert (on.head, on.who) == ("On tree 4", "Cora")
    assert "14 11/16 in on the tree" in on.text.replace("\u00a0", " ")
    assert on.saved_at > on.happened_at
    assert (prepared.text, prepared.saved_at) == ("dry", "")


def test_what_was_caught_up_says_that_it_was_not_recorded(store: Store, boots: Pair, act: Act):
    catch_up(store, act, boots.left, "finishing", StepInput(act.at))
    (line,) = lines(items.steps(store, boots.left), {}, "in")
    assert (line.text, line.recorded, line.who) == ("not recorded", False, "")
