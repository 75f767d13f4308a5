"""The same boots again in one tap: a new ticket that knows the old one, nothing read reused."""

from __future__ import annotations

import pytest
from support.cast import Clock, Counter
from support.ticket_rows import Job, make_job

from fitcounter.store import findings, fits, items, readings, tickets
from fitcounter.store.database import Act, Store


@pytest.fixture
def gone(store: Store, clock: Clock) -> Job:
    """Boots of a closed ticket, a leg read then."""
    job = make_job(store, Act(clock.now, 1), state="closed")
    with store.write_tx():
        store.change(
            "tickets", job.ticket_id, state="closed", handed_over_at="2026-01-01T00:00:00Z"
        )
        store.db.execute("UPDATE items SET material = 'nubuck' WHERE fit_id = ?", [job.fit_id])
        store.insert(
            "leg_readings",
            fit_id=job.fit_id,
            side="left",
            height_um=304800,
            height_text="12",
            girth_um=365125,
            girth_text="14 3/8",
            unit="in",
            repeat=1,
            read_at="2026-01-01T00:00:00Z",
        )
    return job


def test_one_tap_opens_a_new_ticket_with_the_same_boots_to_be_measured(
    counter: Counter, store: Store, gone: Job
):
    page = counter.get(f"/tickets/{gone.ticket_id}").text
    assert "Take these boots in again" in page
    for _ in range(2):
        answer = counter.post(f"/tickets/{gone.ticket_id}/again", submission_id="again-0001")
        assert answer.status_code == 303
    fresh = tickets.of_customer(store, tickets.get(store, gone.ticket_id).customer_id)[0]
    assert (fresh.state, fresh.returns_ticket_id) == ("open", gone.ticket_id)
    fit = fits.of_ticket(store, fresh.id)[0]
    assert answer.headers["Location"] == f"/fits/{fit.id}/measure"
    boots = items.of_ticket(store, fresh.id)
    assert [(one.side, one.material, one.state) for one in boots] == [
        ("left", "nubuck", "counter"),
        ("right", "nubuck", "counter"),
    ]
    assert readings.legs(store, fit.id) == []
    assert [one.word for one in findings.of_item(store, boots[0].id)] == ["prior-stretch"]
    assert store.value("SELECT count(*) FROM tickets") == 2


def test_boots_that_are_still_here_are_not_taken_in_twice(
    counter: Counter, store: Store, clock: Clock
):
    job = make_job(store, Act(clock.now, 1))
    counter.get(f"/tickets/{job.ticket_id}")
    assert counter.post(f"/tickets/{job.ticket_id}/again").status_code == 422
    assert store.value("SELECT count(*) FROM tickets") == 1


def test_it_refuses_get_the_stranger_and_a_ticket_that_is_not_there(
    counter: Counter, stranger: Counter, gone: Job
):
    assert counter.get(f"/tickets/{gone.ticket_id}/again").status_code == 405
    assert stranger.client.post(f"/tickets/{gone.ticket_id}/again").status_code == 401
    counter.get("/")
    assert counter.post("/tickets/999/again").status_code == 404


def test_what_was_read_last_time_is_shown_beside_the_new_sheet_and_stands_in_no_field(
    counter: Counter, store: Store, gone: Job
):
    with store.write_tx():
        row = {
            "item_id": gone.left,
            "n": 1,
            "prepared": "conditioned",
            "before_um": 360_000,
            "rested_um": 372_700,
            "rested_method": "outside",
        }
        at = {
            "on_at": "2026-01-01T00:00:00Z",
            "off_at": "2026-01-08T00:00:00Z",
            "rested_at": "2026-01-09T12:00:00Z",
        }
        round_id = store.insert("rounds", **row, **at)
        store.insert("turns", round_id=round_id, n=1, at="2026-01-01T00:00:00Z", girth_um=385_400)
    counter.get(f"/tickets/{gone.ticket_id}")
    page = counter.get(
        counter.post(f"/tickets/{gone.ticket_id}/again", submission_id="again-0002").headers[
            "Location"
        ]
    ).text.replace("\u00a0", " ")
    assert "These boots last time" in page
    assert "Left boot gave ½ in in 1 round; kept about half." in page
    assert '<td class="nowrap">14⅜</td>' in page
    assert 'value="14 3/8"' not in page


def test_somebody_who_comes_with_other_boots_is_shown_her_legs_and_not_the_other_boots(
    counter: Counter, store: Store, gone: Job
):
    customer = tickets.get(store, gone.ticket_id).customer_id
    with store.write_tx():
        ticket = store.insert(
            "tickets",
            number=77,
            customer_id=customer,
            opened_at="2026-03-17T10:00:00Z",
            currency="USD",
        )
        fit = store.insert("fits", ticket_id=ticket)
        boot = {
            "ticket_id": ticket,
            "fit_id": fit,
            "letter": "A",
            "kind": "boot",
            "work": "stretch",
            "description": "new",
            "state": "counter",
        }
        for side in ("left", "right"):
            store.insert("items", **boot, side=side, since="2026-03-17T10:00:00Z")
    page = counter.get(f"/fits/{fit}/measure").text
    assert "Last time" in page
    assert "left leg" in page
    assert "left boot</th>" not in page
    assert "Last time" not in counter.get(f"/fits/{gone.fit_id}/measure").text


def test_boots_that_were_taken_in_again_already_are_not_taken_in_a_third_time(
    counter: Counter, store: Store, gone: Job
):
    """Another phone, another page: another submission.

    The answer leads to the ticket that is there.
    """
    counter.get(f"/tickets/{gone.ticket_id}")
    assert (
        counter.post(f"/tickets/{gone.ticket_id}/again", submission_id="again-0001").status_code
        == 303
    )
    answer = counter.post(f"/tickets/{gone.ticket_id}/again", submission_id="again-0002")
    assert answer.status_code == 409
    assert "already back" in answer.text
    customer_id = tickets.get(store, gone.ticket_id).customer_id
    newest = tickets.of_customer(store, customer_id)[0]
    assert f"/tickets/{newest.id}" in answer.text
    assert store.value("SELECT count(*) FROM tickets") == 2


def test_each_pair_keeps_one_letter_also_beside_a_single_boot(
    counter: Counter, store: Store, gone: Job
):
    """Letter and side tell the tags of two pairs apart."""
    boot = {
        "ticket_id": gone.ticket_id,
        "kind": "boot",
        "work": "stretch",
        "state": "closed",
        "since": "2026-01-01T00:00:00Z",
    }
    with store.write_tx():
        for letter, sides in (("c", ("left",)), ("d", ("left", "right"))):
            fit_id = store.insert("fits", ticket_id=gone.ticket_id)
            for side in sides:
                store.insert(
                    "items", **boot, fit_id=fit_id, letter=letter, side=side, description="black"
                )
    counter.get(f"/tickets/{gone.ticket_id}")
    counter.post(f"/tickets/{gone.ticket_id}/again", submission_id="again-0001")
    fresh = tickets.of_customer(store, tickets.get(store, gone.ticket_id).customer_id)[0]
    held = [(one.letter, one.side) for one in items.of_ticket(store, fresh.id)]
    assert held == [("A", "left"), ("A", "right"), ("B", "left"), ("C", "left"), ("C", "right")]
