"""The invented shop's jobs are played through the calls the screens make."""

from __future__ import annotations

import json
from typing import Any

import pytest
from support.whole_shop import NOW, WholeShop

from fitcounter.desk.aftercare import not_right, wear_calendar
from fitcounter.desk.demo import scenario
from fitcounter.desk.demo.stage import Stage
from fitcounter.settings import SEED_SCENARIO
from fitcounter.store import bills, customers, fits, items, readings, tickets


def seeded(key: str) -> dict[str, Any]:
    """A job of the shipped story."""
    jobs = json.loads((SEED_SCENARIO / "jobs.json").read_text(encoding="utf-8"))
    return next(job for job in jobs if job["key"] == key)


def test_a_thing_is_taken_in_priced_and_paid_as_the_story_says(stage: Stage, bag_story: dict):
    scenario.play(stage, [bag_story])
    ticket = tickets.get(stage.store, 1)
    (bag,) = items.of_ticket(stage.store, ticket.id)
    assert (bag.kind, bag.state, bag.promised_day) == ("bag", "queued", "2026-03-20")
    assert customers.get(stage.store, ticket.customer_id).name == "Ada Brandvold"
    assert [line.amount_minor for line in bills.lines(stage.store, ticket.id)] == [4500]
    assert [
        (payment.kind, payment.amount_minor) for payment in bills.payments(stage.store, ticket.id)
    ] == [("deposit", 2000)]


def test_a_declined_pair_is_measured_and_waits_to_go_back(stage: Stage):
    scenario.play(stage, [seeded("solano")])
    (fit,) = fits.of_ticket(stage.store, 1)
    left, right = fits.boots(stage.store, fit.id)
    assert (left.state, right.state) == ("declined", "declined")
    girths = [reading.girth_text for reading in readings.boots(stage.store, left.id)]
    assert girths == ["10 5/8", "12 13/16", "14"]


def test_jobs_are_played_together_in_the_order_of_time(stage: Stage, bag_story: dict):
    later = bag_story | {"name": "Ruth Castellane", "opened": -9}
    earlier = bag_story | {
        "name": "Imre Dallimore",
        "life": [["bag", "start-work", -8, "9:00", {}]],
    }
    scenario.play(stage, [later, earlier])
    opened = [tickets.get(stage.store, ticket_id) for ticket_id in (1, 2)]
    names = [customers.get(stage.store, ticket.customer_id).name for ticket in opened]
    assert names == ["Imre Dallimore", "Ruth Castellane"]
    states = [items.of_ticket(stage.store, ticket.id)[0].state for ticket in opened]
    assert states == ["working", "queued"]


def test_the_welcome_names_everybody_who_can_sign_in_and_what_to_try():
    told = scenario.welcome("http://localhost:8000")
    people = json.loads((SEED_SCENARIO / "shop.json").read_text(encoding="utf-8"))["people"]
    for person in people:
        assert f"{person['initials']}  {person['passphrase']}" in told
    assert told.startswith("The invented shop is open at http://localhost:8000")
    assert "New job for a pair that will not close" in told


@pytest.mark.parametrize(
    ("key", "due", "waiting", "advice"),
    [
        ("halloran", "wear", 0, None),
        ("montclair", "hold", 1, None),
        ("sandoval", "rest", 0, "go-on"),
    ],
)
def test_somebody_is_at_home_with_a_wear_today_on_hold_and_answered(
    whole: WholeShop, key: str, due: str, waiting: int, advice: str | None
):
    """The three on whom the customer's page can be looked at while it matters."""
    (row,) = whole.store.rows(
        "SELECT t.id AS id FROM tickets t JOIN customers c ON c.id = t.customer_id"
        " WHERE c.name = ?",
        seeded(key)["name"],
    )
    assert wear_calendar.current(whole.store, row["id"], NOW).due.kind == due
    now = not_right.standing(whole.store, row["id"])
    assert len(now.reports) == waiting
    assert (now.advice.advice if now.advice else None) == advice
    assert now.held == (due == "hold")
