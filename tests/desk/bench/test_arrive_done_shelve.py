"""The steps before, between and after rounds."""

from __future__ import annotations

import pytest
from support.bench_cast import Pair

from fitcounter.desk.bench import arrive_done_shelve
from fitcounter.desk.common.catch_up import catch_up
from fitcounter.desk.common.state_changes import StepInput
from fitcounter.errors import BadInput
from fitcounter.store import items
from fitcounter.store.database import Act, Store


def booked(store: Store, item_id: int) -> int:
    """How many days of trees are booked for a boot."""
    return int(store.value("SELECT count(*) FROM bookings WHERE item_id = ?", item_id))


def test_done_gives_back_the_trees_that_were_planned_for_it(store: Store, boots: Pair, act: Act):
    catch_up(store, act, boots.left, "to-decide", StepInput(act.at))
    assert booked(store, boots.left) > 0
    arrive_done_shelve.done(store, act, boots.left, StepInput(act.at))
    assert items.get(store, boots.left).state == "finishing"
    assert booked(store, boots.left) == 0


def test_not_there_yet_is_back_in_the_queue(store: Store, boots: Pair, act: Act):
    catch_up(store, act, boots.left, "to-decide", StepInput(act.at))
    arrive_done_shelve.another_round(store, act, boots.left, StepInput(act.at))
    assert items.get(store, boots.left).state == "queued"


def test_a_shelf_is_asked_for_and_kept_with_the_shaper(store: Store, boots: Pair, act: Act):
    catch_up(store, act, boots.left, "finishing", StepInput(act.at))
    arrive_done_shelve.finish(store, act, boots.left, StepInput(act.at), "S2")
    with pytest.raises(BadInput) as refused:
        arrive_done_shelve.shelve(store, act, boots.left, StepInput(act.at), "  ")
    assert refused.value.field == "shelf"
    arrive_done_shelve.shelve(store, act, boots.left, StepInput(act.at), " B2 ")
    there = items.get(store, boots.left)
    assert (there.state, there.shelf, there.shaper) == ("shelved", "B2", "S2")
