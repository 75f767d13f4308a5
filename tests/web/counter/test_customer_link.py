"""Her link at the counter: to be scanned, made anew so that the old one dies, taken back; and the
language she reads.
"""

from __future__ import annotations

import pytest
from support.cast import Clock, Counter
from support.link_on_page import agreed_job, token_on
from support.ticket_rows import Job

from fitcounter.store import customers, tickets
from fitcounter.store.database import Act, Store


@pytest.fixture
def job(store: Store, clock: Clock, tmp_path) -> Job:
    return agreed_job(store, Act(clock.now, 1), tmp_path)


def test_the_counter_shows_her_link_and_until_when_it_opens(
    counter: Counter, stranger: Counter, job: Job
):
    page = counter.get(f"/tickets/{job.ticket_id}/link").text
    assert '<svg class="square"' in page
    assert "It works until" in page
    assert stranger.get(f"/c/{token_on(counter, job)}").status_code == 200


def test_a_new_link_opens_her_page_and_the_old_one_nothing(
    counter: Counter, stranger: Counter, store: Store, job: Job
):
    old = token_on(counter, job)
    answer = counter.post(f"/tickets/{job.ticket_id}/link/new", submission_id="link-0001")
    assert answer.status_code == 303
    assert (
        "The new link works now. The old one no longer does." in counter.get(answer.location).text
    )
    new = token_on(counter, job)
    assert new != old
    assert stranger.get(f"/c/{new}").status_code == 200
    dead, unknown = stranger.get(f"/c/{old}"), stranger.get("/c/" + "A" * 22)
    assert (dead.status_code, unknown.status_code) == (404, 404)
    assert "This link does not work." in dead.text
    assert (
        counter.get(f"/tickets/{job.ticket_id}/link").text.count(
            "1 older link of this ticket opens nothing"
        )
        == 1
    )
    assert new not in str(store.rows("SELECT * FROM tickets")) + str(
        store.rows("SELECT * FROM audit")
    )


def test_the_same_press_twice_makes_one_link(counter: Counter, store: Store, job: Job):
    counter.get(f"/tickets/{job.ticket_id}/link")
    for _ in range(2):
        counter.post(f"/tickets/{job.ticket_id}/link/new", submission_id="link-0001")
    assert tickets.links_so_far(store, job.ticket_id) == 2


def test_a_link_taken_back_opens_nothing_until_there_is_a_new_one(
    counter: Counter, stranger: Counter, job: Job
):
    old = token_on(counter, job)
    counter.post(f"/tickets/{job.ticket_id}/link/take-back")
    assert "This link is turned off" in counter.get(f"/tickets/{job.ticket_id}/link").text
    assert token_on(counter, job) == ""
    assert stranger.get(f"/c/{old}").status_code == 404
    counter.post(f"/tickets/{job.ticket_id}/link/new")
    assert stranger.get(f"/c/{old}").status_code == 404
    assert stranger.get(f"/c/{token_on(counter, job)}").status_code == 200


@pytest.mark.parametrize("where", ["counter", "customer"])
def test_her_language_is_chosen_at_the_counter_or_on_her_page(
    counter: Counter, stranger: Counter, store: Store, job: Job, where: str
):
    token = token_on(counter, job)
    if where == "counter":
        assert counter.post(f"/tickets/{job.ticket_id}/language", language="es").status_code == 303
    else:
        stranger.get(f"/c/{token}")
        assert stranger.post(f"/c/{token}/language", language="es").status_code == 303
    assert customers.get(store, tickets.get(store, job.ticket_id).customer_id).language == "es"
    assert "tus botas" in stranger.get(f"/c/{token}").text


def test_a_language_that_is_not_offered_changes_nothing(
    counter: Counter, stranger: Counter, store: Store, job: Job
):
    token = token_on(counter, job)
    stranger.get(f"/c/{token}")
    asked = ((counter, f"/tickets/{job.ticket_id}", "xx"), (stranger, f"/c/{token}", "../x"))
    for answer in (who.post(f"{where}/language", language=code) for who, where, code in asked):
        assert answer.status_code == 422
        assert "Pick one of the languages" in answer.text
    assert customers.get(store, tickets.get(store, job.ticket_id).customer_id).language == "en"
