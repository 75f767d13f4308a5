"""What was seen on an item, in the order it was seen."""

from __future__ import annotations

import pytest
from support.ticket_rows import Job, make_job

from fitcounter.errors import NotFound
from fitcounter.store import findings
from fitcounter.store.database import Act, Store


def incident(store: Store, item_id: int, what: str) -> int:
    with store.write_tx():
        return store.insert(
            "incidents", item_id=item_id, opened_at="2026-03-17T14:00:00Z", what=what
        )


def test_what_was_seen_of_a_pair_comes_by_its_boots_and_nothing_of_other_jobs(
    store: Store, act: Act, job: Job
):
    other = make_job(store, act, "Tobias")
    with store.write_tx():
        for item_id, word in (
            (job.left, "zip-worn"),
            (job.left, "dry"),
            (job.right, "cracks"),
            (job.bag, "torn"),
            (other.left, "mould"),
        ):
            findings.add(store, act, item_id, word)
    seen = findings.of_items(store, (job.left, job.right))
    assert {item: [one.word for one in found] for item, found in seen.items()} == {
        job.left: ["zip-worn", "dry"],
        job.right: ["cracks"],
    }


def test_a_finding_says_who_saw_it_when_and_at_which_moment(store: Store, act: Act, job: Job):
    with store.write_tx():
        findings.add(
            store, act, job.left, "grain-lifts", ("round", 2), place="calf", note="stop here"
        )
    (seen,) = findings.of_item(store, job.left)
    assert (seen.moment, seen.round_n, seen.place, seen.note) == ("round", 2, "calf", "stop here")
    assert (seen.seen_at, seen.staff_id) == ("2026-03-17T14:00:00Z", 1)


def test_the_incidents_of_an_item_come_newest_first(store: Store, job: Job):
    first, second = incident(store, job.left, "seam"), incident(store, job.left, "zip")
    incident(store, job.right, "heel")
    assert [one.id for one in findings.incidents_of_item(store, job.left)] == [second, first]
    assert findings.get_incident(store, first).what == "seam"


@pytest.mark.parametrize("incident_id", [0, -1, 99, 2**63])
def test_an_incident_that_is_not_there_is_not_found(store: Store, incident_id: int):
    with pytest.raises(NotFound):
        findings.get_incident(store, incident_id)
