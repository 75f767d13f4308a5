"""The way back of a step: every row as it stood before, and no further than the last step."""

from __future__ import annotations

from support.ticket_rows import Job

from fitcounter.store import items, rounds, undos
from fitcounter.store.database import Store

AT = "2026-03-17T14:00:00Z"


def step(store: Store, item_id: int, name: str, came_from: str, to: str) -> None:
    store.insert(
        "steps",
        item_id=item_id,
        step=name,
        happened_at=AT,
        saved_at=AT,
        from_state=came_from,
        to_state=to,
    )


def put_on(store: Store, job: Job) -> int:
    """A step that adds a round, changes the item twice and writes its row; its round."""
    with store.write_tx():
        writes = undos.Writes(store, items.get(store, job.left), {"mark_um": None})
        round_id = writes.insert("rounds", item_id=job.left, n=1)
        writes.change("items", job.left, state="on-tree")
        writes.change("items", job.left, mark_um=100_000)
        step(store, job.left, "put-on", "queued", "on-tree")
        writes.keep("put-on")
    return round_id


def test_everything_stands_as_it_did_before_the_step(store: Store, job: Job):
    before = items.get(store, job.left)
    round_id = put_on(store, job)
    way_back = undos.last(store, job.left)
    assert way_back is not None
    undo_id, struck = way_back
    assert [one.step for one in struck] == ["put-on"]
    assert undos.added(store, undo_id, "rounds") == [round_id]
    with store.write_tx():
        undos.take_back(store, undo_id, struck, AT)
    after = items.get(store, job.left)
    assert (after.state, after.mark_um) == (before.state, before.mark_um)
    assert after.version > before.version  # somebody who has the old page open is told
    assert rounds.of_item(store, job.left) == []
    assert store.value("SELECT undone_at FROM steps WHERE item_id = ?", job.left) == AT
    assert undos.last(store, job.left) is None


def test_a_step_that_another_one_followed_has_no_way_back(store: Store, job: Job):
    put_on(store, job)
    with store.write_tx():
        step(store, job.left, "take-off", "on-tree", "resting")
    assert undos.last(store, job.left) is None


def test_another_item_has_no_way_back_by_it(store: Store, job: Job):
    put_on(store, job)
    assert undos.last(store, job.right) is None
