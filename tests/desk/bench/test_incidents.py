"""Something went wrong: the item stops, and its record is told, agreed and settled."""

from __future__ import annotations

import pytest
from support.bench_cast import Pair

from fitcounter.desk.bench import incidents, put_on_turn_up_take_off
from fitcounter.desk.bench.incidents import IncidentInput, as_typed
from fitcounter.desk.bench.put_on_turn_up_take_off import PutOn
from fitcounter.desk.common.state_changes import StepInput
from fitcounter.desk.shop import Shop
from fitcounter.errors import BadInput
from fitcounter.store import findings, items, rounds
from fitcounter.store.database import Act, Store


def test_a_boot_on_a_tree_comes_off_it_and_its_record_is_open(
    store: Store, choices: Shop, boots: Pair, act: Act
):
    told = PutOn("4", before="14 3/8", on_tree="14 11/16")
    put_on_turn_up_take_off.put_on(store, act, choices, boots.left, StepInput(act.at), told)
    incidents.stop(store, act, boots.left, StepInput(act.at), "grain cracked", "at the ankle")
    last = rounds.last(store, boots.left)
    assert last is not None
    assert (last.outcome, last.off_at is not None) == ("stopped", True)
    (record,) = findings.incidents_of_item(store, boots.left)
    assert (record.what, record.where_on) == ("grain cracked", "at the ankle")
    assert incidents.unsettled(store, items.get(store, boots.left)) == record.id


def test_words_are_asked_for_and_without_them_nothing_stops(store: Store, boots: Pair, act: Act):
    with pytest.raises(BadInput) as refused:
        incidents.stop(store, act, boots.left, StepInput(act.at), "  ")
    assert refused.value.field == "what"
    assert items.get(store, boots.left).state == "queued"


def test_when_it_was_told_stays_and_two_who_write_of_what_was_agreed_are_both_kept(
    store: Store, boots: Pair, act: Act
):
    incidents.stop(store, act, boots.left, StepInput(act.at), "grain cracked")
    (opened,) = findings.incidents_of_item(store, boots.left)
    was = as_typed(opened)
    first = IncidentInput(True, "a new shaft", settled=False, was=was)
    incidents.settle(store, act, opened.id, first)
    told_at = findings.get_incident(store, opened.id).told_at
    second = IncidentInput(False, "half the price", settled=False, was=was)
    incidents.settle(store, act, opened.id, second)
    now = findings.get_incident(store, opened.id)
    assert (now.told_at, now.settled_at) == (told_at, None)
    assert "a new shaft" in now.agreed
    assert "half the price" in now.agreed
