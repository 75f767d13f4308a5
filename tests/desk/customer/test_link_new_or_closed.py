"""The customer's link: how long it opens, renewed, and what does not wake an old one."""

from __future__ import annotations

import pytest
from support.cast import Clock, Counter
from support.link_on_page import agreed_job, token_on
from support.ticket_rows import Job, make_job

from fitcounter.desk import shop
from fitcounter.desk.common import link_token
from fitcounter.desk.common.catch_up import catch_up
from fitcounter.desk.common.state_changes import StepInput
from fitcounter.desk.front_desk import pickup
from fitcounter.desk.quote import agree
from fitcounter.store import items, tickets
from fitcounter.store.database import Act, Store


@pytest.fixture
def job(store: Store, clock: Clock, tmp_path) -> Job:
    return agreed_job(store, Act(clock.now, 1), tmp_path)


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
