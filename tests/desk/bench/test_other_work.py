"""Work on a boot beside its stretching, one state after another."""

from __future__ import annotations

from dataclasses import replace
from datetime import UTC, datetime

import pytest
from support.bench_cast import tree

from fitcounter.desk.bench import (
    arrive_done_shelve,
    other_work,
    put_on_turn_up_take_off,
    undo_step,
)
from fitcounter.desk.bench.other_work import WorkStepInput
from fitcounter.desk.common.state_changes import StepInput
from fitcounter.desk.shop import Shop
from fitcounter.errors import BadInput, Conflict, OutOfOrder
from fitcounter.store import items, works
from fitcounter.store.database import Act, Store, utc_text

AT = datetime(2026, 3, 17, 14, tzinfo=UTC)


def add(store: Store, act: Act, job, what: str, timing: str, *item_ids: int) -> list[int]:
    """The ids of its lines, in the order of the items."""
    with store.write_tx():
        row = {"ticket_id": job.ticket_id, "what": what, "timing": timing, "days": 1}
        work_id = works.add(store, act, item_ids, **row)
    lines = works.lines_of_ticket(store, job.ticket_id)
    return [one.id for one in lines if one.work_id == work_id]


def states(store: Store, item_id: int) -> dict[str, str]:
    return {one.what: one.state for one in works.of_item(store, item_id)}


def test_what_waits_is_said_and_done_all_the_same_only_when_ticked(store: Store, act: Act, job):
    (zip_id,) = add(store, act, job, "New zipper", "after", job.left)
    add(store, act, job, "Heel tips", "any", job.left, job.right)
    words = [one.words for one in other_work.of_item(store, items.get(store, job.left))]
    assert words == ["New zipper: after stretching", "Heel tips: to do"]
    with pytest.raises(BadInput, match="comes after stretching") as asked:
        other_work.set_line(store, act, zip_id, AT, WorkStepInput("done"))
    assert asked.value.field == "anyway"
    told = other_work.set_line(store, act, zip_id, AT, WorkStepInput("done", anyway=True)).words
    assert told == "Left 1, New zipper: done."
    assert states(store, job.left) == {"New zipper": "done", "Heel tips": "waiting"}
    assert states(store, job.right) == {"Heel tips": "waiting"}


def test_each_boot_has_its_own_state_finding_and_day(store: Store, act: Act, job):
    left, right = add(store, act, job, "Heel tips", "any", job.left, job.right)
    other_work.set_line(store, act, left, AT, WorkStepInput("working"))
    other_work.set_line(store, act, right, AT, WorkStepInput("done", note="the heel was loose"))
    assert states(store, job.left) == {"Heel tips": "working"}
    (line,) = works.of_item(store, job.right)
    assert (line.state, line.note, line.since) == ("done", "the heel was loose", utc_text(AT))
    other_work.set_line(store, act, right, AT, WorkStepInput("waiting"))
    assert states(store, job.right) == {"Heel tips": "waiting"}


def test_what_is_not_done_needs_a_reason_and_somebody_quicker_is_told(store: Store, act: Act, job):
    (tips,) = add(store, act, job, "Heel tips", "any", job.left)
    with pytest.raises(BadInput, match="why it is not done"):
        other_work.set_line(store, act, tips, AT, WorkStepInput("not-done"))
    with pytest.raises(BadInput, match="Pick what"):
        other_work.set_line(store, act, tips, AT, WorkStepInput("gone"))
    other_work.set_line(store, act, tips, AT, WorkStepInput("working", seen="waiting"))
    with pytest.raises(Conflict, match="Someone changed"):
        other_work.set_line(store, act, tips, AT, WorkStepInput("done", seen="waiting"))
    typed = WorkStepInput("not-done", seen="working", note="no tips of that size")
    other_work.set_line(store, act, tips, AT, typed)
    assert works.open_of_item(store, job.left) == []


def test_a_boot_goes_on_a_tree_only_when_what_comes_before_is_done(
    store: Store, act: Act, choices: Shop, job
):
    add(store, act, job, "Seam restitched", "before", job.left)
    tree(store, "B4")
    put = put_on_turn_up_take_off.PutOn(tree="B4")
    said = StepInput(act.at)
    with pytest.raises(OutOfOrder, match="Before stretching comes: Seam restitched") as asked:
        put_on_turn_up_take_off.put_on(store, act, choices, job.left, said, put)
    assert asked.value.field == "catch_up"
    put_on_turn_up_take_off.put_on(store, act, choices, job.left, replace(said, catch_up=True), put)
    assert items.get(store, job.left).state == "on-tree"
    assert states(store, job.left) == {"Seam restitched": "done"}


def test_a_boot_is_ready_only_when_all_its_work_is_done_and_undo_opens_it_again(
    store: Store, act: Act, choices: Shop, job
):
    add(store, act, job, "New zipper", "after", job.left)
    arrive_done_shelve.done(store, act, job.left, StepInput(act.at))
    said = StepInput(act.at)
    for step in (
        lambda: arrive_done_shelve.finish(store, act, job.left, said),
        lambda: arrive_done_shelve.shelve(store, act, job.left, said, "B2"),
    ):
        with pytest.raises(OutOfOrder, match="Not saved as done: New zipper"):
            step()
    arrive_done_shelve.shelve(store, act, job.left, StepInput(act.at, catch_up=True), "B2")
    assert items.get(store, job.left).state == "shelved"
    assert states(store, job.left) == {"New zipper": "done"}
    (line,) = works.of_item(store, job.left)
    with pytest.raises(Conflict, match="The boot is ready"):
        other_work.set_line(store, act, line.id, AT, WorkStepInput("waiting"))
    last = items.steps(store, job.left)[-1]
    undo_step.undo(store, act, choices, job.left, last.id)
    assert states(store, job.left) == {"New zipper": "waiting"}
