"""Her link at the counter: to be scanned, made anew so that the old one dies, taken back; and the
language she reads.
"""

from __future__ import annotations

import pytest
from support.cast import Clock, Counter
from support.ticket_rows import Job, make_job

from fitcounter.desk import shop
from fitcounter.desk.common import link_token
from fitcounter.desk.common.catch_up import catch_up
from fitcounter.desk.common.state_changes import StepInput
from fitcounter.desk.front_desk import pickup
from fitcounter.desk.quote import agree
from fitcounter.store import customers, items, tickets
from fitcounter.store.database import Act, Store


@pytest.fixture
def job(store: Store, clock: Clock, tmp_path) -> Job:
    """An agreed job: it has tags and its first link."""
    act = Act(clock.now, 1)
    job = make_job(store, act)
    with store.write_tx():
        here = items.of_ticket(store, job.ticket_id)
        ticket = tickets.get(store, job.ticket_id)
        agree.open_for_asking(store, act, ticket, agree.TicketOpening(items=here), tmp_path)
    return job


def token_on(counter: Counter, job: Job) -> str:
    """The token of the address on the counter's page, "" where none is shown."""
    text = counter.get(f"/tickets/{job.ticket_id}/link").text
    return text.partition("/c/")[2][:22] if "/c/" in text else ""


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


def test_something_more_on_the_ticket_does_not_wake_the_old_link(
    counter: Counter, stranger: Counter, store: Store, job: Job, clock: Clock, tmp_path
):
    old = token_on(counter, job)
    counter.post(f"/tickets/{job.ticket_id}/link/new")
    new = token_on(counter, job)
    with store.write_tx():
        here = items.of_ticket(store, job.ticket_id)
        ticket = tickets.get(store, job.ticket_id)
        opening = agree.TicketOpening(items=here)
        agree.open_for_asking(store, Act(clock.now, 1), ticket, opening, tmp_path)
    assert (stranger.get(f"/c/{old}").status_code, stranger.get(f"/c/{new}").status_code) == (
        404,
        200,
    )


def test_a_new_link_lasts_as_long_as_the_guarantee_and_the_days_after(
    counter: Counter, store: Store, job: Job, clock: Clock
):
    act = Act(clock.now, 1)
    for item_id in (job.left, job.right, job.bag):
        catch_up(store, act, item_id, "shelved", StepInput(act.at))
    handed = pickup.Handover(
        frozenset({job.left, job.right, job.bag}), act.at, "Marisol", preset="three-short-wears"
    )
    pickup.hand_over(store, act, job.ticket_id, handed, shop.read(store))
    before = tickets.get(store, job.ticket_id).link_until
    counter.post(f"/tickets/{job.ticket_id}/link/new")
    assert tickets.get(store, job.ticket_id).link_until == before


def test_a_ticket_without_a_link_says_when_it_gets_one(
    counter: Counter, store: Store, clock: Clock
):
    bare = make_job(store, Act(clock.now, 1), name="Tobias")
    assert "No link yet" in counter.get(f"/tickets/{bare.ticket_id}/link").text
    answer = counter.post(f"/tickets/{bare.ticket_id}/link/new")
    assert answer.status_code == 422
    assert "It gets one when the job is agreed" in answer.text
    assert tickets.links_so_far(store, bare.ticket_id) == 0


def test_the_first_link_is_made_as_it_always_was(store: Store, job: Job):
    """Links that are printed already go on opening."""
    ticket = tickets.get(store, job.ticket_id)
    assert (
        link_token.link_token(b"key", ticket)
        == link_token.link_token(b"key", ticket, 1)
        != link_token.link_token(b"key", ticket, 2)
    )


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
