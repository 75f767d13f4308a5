"""One step of one item: saved once, in order, or caught up."""

from __future__ import annotations

import json

import pytest
from support.cast import Clock

from fitcounter.desk.common.state_changes import StepInput, take_step
from fitcounter.errors import Conflict, OutOfOrder
from fitcounter.store import items
from fitcounter.store.database import Act, Store


def test_a_step_moves_the_item_and_keeps_when_it_happened_beside_when_it_was_saved(
    store: Store, job, clock: Clock
):
    happened = clock.now
    saved = clock.on(hours=3)
    take_step(
        store,
        Act(saved, 2),
        job.left,
        "prepare",
        StepInput(happened, detail={"with": "conditioner"}),
    )

    item, step = items.get(store, job.left), items.steps(store, job.left)[-1]
    assert (item.state, item.since) == ("prepared", "2026-03-17T14:00:00Z")
    assert (step.step, step.happened_at, step.saved_at, step.staff_id) == (
        "prepare",
        "2026-03-17T14:00:00Z",
        "2026-03-17T17:00:00Z",
        2,
    )
    assert (step.recorded, step.from_state, step.to_state) == (1, "queued", "prepared")
    assert json.loads(step.detail) == {"with": "conditioner"}
    assert items.get(store, job.right).state == "queued"


def test_each_step_leaves_one_row_in_the_audit(store: Store, job, act: Act):
    before = store.value("SELECT count(*) FROM audit")
    take_step(store, act, job.left, "prepare", StepInput(act.at))
    row = store.rows("SELECT * FROM audit ORDER BY id DESC LIMIT 1")[0]
    assert store.value("SELECT count(*) FROM audit") == before + 1
    assert (row["what"], row["ticket_id"], row["item_id"]) == ("prepare", job.ticket_id, job.left)


def test_a_step_out_of_order_asks_and_writes_nothing(store: Store, job, act: Act):
    with pytest.raises(OutOfOrder, match="waiting for the bench"):
        take_step(store, act, job.left, "take-off", StepInput(act.at))
    assert items.steps(store, job.left) == []
    assert items.get(store, job.left).state == "queued"


def test_saved_all_the_same_what_was_skipped_is_kept_as_not_recorded(store: Store, job, act: Act):
    take_step(store, act, job.left, "take-off", StepInput(act.at, catch_up=True))
    steps = [(one.step, one.recorded, one.to_state) for one in items.steps(store, job.left)]
    assert steps == [
        ("catch-up", 0, "prepared"),
        ("catch-up", 0, "on-tree"),
        ("take-off", 1, "resting"),
    ]
    assert store.value("SELECT count(*) FROM rounds") == 0


def test_a_version_that_moved_on_is_a_conflict(store: Store, job, act: Act):
    seen = items.get(store, job.left).version
    take_step(store, act, job.left, "prepare", StepInput(act.at, version=seen))
    with pytest.raises(Conflict):
        take_step(store, act, job.left, "put-on", StepInput(act.at, version=seen))


def test_what_waits_goes_on_where_it_was(store: Store, job, act: Act):
    take_step(store, act, job.left, "prepare", StepInput(act.at))
    take_step(store, act, job.left, "wait", StepInput(act.at, columns={"waits_for": "the zip"}))
    take_step(store, act, job.left, "stop", StepInput(act.at))
    assert items.get(store, job.left).state_before == "prepared"
    take_step(store, act, job.left, "go-on", StepInput(act.at))
    assert items.get(store, job.left).state == "prepared"
