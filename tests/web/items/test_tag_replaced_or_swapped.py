"""A tag that is lost, torn, spoiled or on the wrong thing: the old code dies and its scan says
where it went, to staff alone.
"""

from __future__ import annotations

import pytest
from support.cast import Clock, Counter
from support.tagged_job import code_of, tagged_job
from support.ticket_rows import Job, make_job

from fitcounter.desk.tags.attach import tag_items
from fitcounter.store import items, tags, tickets
from fitcounter.store.database import Act, Store


@pytest.fixture
def job(store: Store, clock: Clock) -> Job:
    return tagged_job(store, Act(clock.now, 1))


def test_two_swapped_tags_are_shown_first_and_exchanged_when_it_is_said(
    bench: Counter, store: Store, job: Job
):
    left, right = code_of(store, job.left), code_of(store, job.right)
    page = bench.get(f"/items/{job.left}/tag").text
    assert f"/items/{job.left}/tag/swap/{job.right}" in page
    shown = bench.get(f"/items/{job.left}/tag/swap/{job.right}").text
    assert "Left" in shown
    assert "Right" in shown
    refused = bench.post(f"/items/{job.left}/tag/swap/{job.right}")
    assert refused.status_code == 422
    assert code_of(store, job.left) == left
    for _ in range(2):
        assert (
            bench.post(
                f"/items/{job.left}/tag/swap/{job.right}", confirmed="1", submission_id="swap-0001"
            ).status_code
            == 303
        )
    new_left, new_right = tags.of_item(store, job.left), tags.of_item(store, job.right)
    assert new_left
    assert new_right
    assert (new_left.side, new_right.side, new_left.number) == ("left", "right", new_right.number)
    assert tags.get(store, tags.by_code(store, left).replaced_by or 0).item_id == job.right, (
        "the left one's old tag hung on the right boot"
    )
    assert f"/items/{job.right}" in bench.get(f"/T/{left}").text
    assert f"/items/{job.left}" in bench.get(f"/T/{right}").text
    kept = store.rows("SELECT detail FROM audit WHERE what = 'tags-swapped'")
    assert len(kept) == 1
    assert left in str(kept[0]["detail"])
    assert (
        store.value(
            "SELECT count(*) FROM tags WHERE died_at IS NULL AND item_id IN (?, ?)",
            job.left,
            job.right,
        )
        == 2
    )


def test_a_tag_swapped_with_a_strangers_thing_is_found_by_its_scan(
    bench: Counter, store: Store, job: Job, clock: Clock
):
    other = make_job(store, Act(clock.now, 1), name="Tobias Renwick")
    with store.write_tx():
        tag_items(
            store,
            Act(clock.now, 1),
            tickets.get(store, other.ticket_id),
            items.of_ticket(store, other.ticket_id),
            {},
        )
    bench.get(f"/items/{job.left}/tag")
    answer = bench.post(f"/items/{job.left}/tag", code=code_of(store, other.left))
    assert answer.location.endswith(f"/items/{job.left}/tag/swap/{other.left}")
    assert "Tobias Renwick" in bench.get(answer.location).text


@pytest.mark.parametrize("typed", ["", "own", "free", "7K3M9QXWE", "nonsense"])
def test_a_tag_that_cannot_be_the_other_one_is_said_and_kept(
    bench: Counter, store: Store, job: Job, clock: Clock, typed: str
):
    with store.write_tx():
        free = tags.get(store, tags.make(store, Act(clock.now, 1), 77, "left")).code
    given = {"own": code_of(store, job.left), "free": free}.get(typed, typed)
    bench.get(f"/items/{job.left}/tag")
    answer = bench.post(f"/items/{job.left}/tag", code=given)
    assert answer.status_code == 422
    assert f'value="{given}"' in answer.text
    assert 'class="error' in answer.text


@pytest.mark.parametrize("path", ["tag/new", "tag/swap/2"])
def test_a_stranger_changes_no_tag_and_a_look_changes_none(
    stranger: Counter, bench: Counter, store: Store, job: Job, path: str
):
    before = store.rows("SELECT * FROM tags")
    assert stranger.post(f"/items/{job.left}/{path}").status_code == 401
    bench.get(f"/items/{job.left}/{path}")
    assert [tuple(one) for one in store.rows("SELECT * FROM tags")] == [
        tuple(one) for one in before
    ]
