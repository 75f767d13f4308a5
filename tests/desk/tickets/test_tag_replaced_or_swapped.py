"""Tags replaced, exchanged and retired, as the file has it."""

from __future__ import annotations

import pytest
from support.cast import Clock, Counter
from support.tagged_job import code_of, tagged_job
from support.ticket_rows import Job

from fitcounter.store import tags
from fitcounter.store.database import Act, Store


@pytest.fixture
def job(store: Store, clock: Clock) -> Job:
    return tagged_job(store, Act(clock.now, 1))


def test_a_lost_tag_is_replaced_and_the_old_code_says_where_it_went(
    bench: Counter, stranger: Counter, store: Store, job: Job
):
    old = code_of(store, job.left)
    assert "Replace or swap the tag" in bench.get(f"/items/{job.left}").text
    answer = bench.post(f"/items/{job.left}/tag/new", submission_id="tag-00001")
    assert answer.status_code == 303
    assert "Left boot 1 has a new tag" in bench.get(answer.location).text
    bench.post(f"/items/{job.left}/tag/new", submission_id="tag-00001")
    new = code_of(store, job.left)
    assert new != old
    assert store.value("SELECT count(*) FROM tags WHERE item_id = ?", job.left) == 2
    scanned = bench.get(f"/T/{old}")
    assert scanned.status_code == 410
    assert f"{new[:4]}-{new[4:8]}-{new[8:]}" in scanned.text
    assert f"/items/{job.left}" in scanned.text
    seen = stranger.get(f"/T/{old}").text
    assert new[:4] not in seen
    assert "Marisol" not in seen
    assert "retired" not in seen


def test_a_thing_without_a_tag_gets_one(bench: Counter, store: Store, job: Job):
    with store.write_tx():
        store.db.execute(
            "UPDATE tags SET died_at = '2026-01-01T00:00:00Z' WHERE item_id = ?", [job.bag]
        )
    assert "No tag yet." in bench.get(f"/items/{job.bag}/tag").text
    bench.post(f"/items/{job.bag}/tag/new")
    assert tags.of_item(store, job.bag) is not None


def test_a_spoiled_free_tag_is_struck_off_and_one_that_hangs_is_not(
    bench: Counter, store: Store, job: Job, clock: Clock
):
    with store.write_tx():
        free = tags.get(store, tags.make(store, Act(clock.now, 1), 77, "left")).code
    assert "Retire this tag" in bench.get(f"/T/{free}").text
    assert bench.post(f"/tags/{free}/strike").status_code == 303
    assert tags.free(store) == []
    assert bench.get(f"/T/{free}").status_code == 410
    hanging = code_of(store, job.left)
    assert bench.post(f"/tags/{hanging}/strike").status_code == 409
    assert code_of(store, job.left) == hanging
