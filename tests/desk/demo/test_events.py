"""Each event of the story is one call of the desk, by the person whose work it is."""

from __future__ import annotations

from typing import Any

import pytest

from fitcounter.desk.demo import events, scenario
from fitcounter.desk.demo.stage import PlayedJob, Stage
from fitcounter.store import bills, contacts, customers, items, tickets


@pytest.fixture
def job(stage: Stage, bag_story: dict[str, Any]) -> PlayedJob:
    """The bag of the story, agreed and in the queue."""
    scenario.play(stage, [bag_story])
    (bag,) = items.of_ticket(stage.store, 1)
    return PlayedJob(bag_story, 1, None, {"bag": bag.id})


def state(stage: Stage, job: PlayedJob) -> str:
    return items.get(stage.store, job.items["bag"]).state


def test_work_is_begun_done_and_shelved(stage: Stage, job: PlayedJob):
    events.step(stage, job, ["bag", "start-work", -6, "10:00", {}])
    assert state(stage, job) == "working"
    events.step(stage, job, ["bag", "work-done", -2, "14:00", {"shelf": "C2"}])
    bag = items.get(stage.store, job.items["bag"])
    assert (bag.state, bag.shelf) == ("shelved", "C2")


def test_a_call_is_kept_with_the_day_to_ask_again(stage: Stage, job: PlayedJob):
    events.step(stage, job, ["all", "call", -2, "10:15", {"how": "left-word", "again": 3}])
    (call,) = contacts.calls_of_ticket(stage.store, job.ticket_id)
    assert (call.how, call.again_day) == ("left-word", "2026-03-20")


def test_handing_over_pays_what_is_owed_and_names_who_came(stage: Stage, job: PlayedJob):
    events.step(stage, job, ["bag", "start-work", -6, "10:00", {}])
    events.step(stage, job, ["bag", "work-done", -2, "14:00", {"shelf": "C2"}])
    handed = {"collected_by": "Ada", "wears": [], "tip": 300}
    events.step(stage, job, ["all", "hand-over", -1, "11:00", handed])
    assert state(stage, job) == "out"
    back = {"amount": "4", "method": "cash", "why": "four dollars too much was charged"}
    events.step(stage, job, ["all", "refund", -1, "11:05", back])
    *_, paid, refund = bills.payments(stage.store, job.ticket_id)
    assert (paid.tip_minor, refund.kind, refund.amount_minor) == (300, "refund", 400)
    assert tickets.get(stage.store, job.ticket_id).collected_by == "Ada"


def test_a_job_has_its_own_language_where_the_story_gives_one(stage: Stage, job: PlayedJob):
    events.own_choices(stage, PlayedJob(job.story | {"language": "es"}, job.ticket_id))
    ticket = tickets.get(stage.store, job.ticket_id)
    assert customers.get(stage.store, ticket.customer_id).language == "es"
