"""From the fields of New job to the job: what cannot be read is said at its field, all at once."""

from __future__ import annotations

from pathlib import Path

import pytest
from support.cast import Clock, Counter
from support.counter_forms import agreement, errors, fresh, gap_sheet, new_job, taken_in, value

from fitcounter.desk import shop
from fitcounter.desk.documents import claim_check_and_tags as documents_ticket
from fitcounter.store import items
from fitcounter.store.database import Store


@pytest.mark.parametrize(
    ("changes", "says"),
    [
        ({"phone": "call my wife"}, "phone number, like"),
        ({"name": ""}, "Type a name, or pick"),
        ({"name": "x" * 81}, "80 characters at most"),
        ({"name": "a\x00b"}, "plain letters"),
        ({"needed_by": "2026-02-30"}, "year-month-day"),
        ({"needed_by": "2026-03-16"}, "has passed"),
        ({"needed_by": "31/05/2026"}, "year-month-day"),
        ({"nothing_seen": ""}, "Tick the damage you saw"),
        ({"seen_left": "scuffs"}, "untick “No damage seen”"),
        ({"seen_left": "measles", "nothing_seen": ""}, "measles"),
        ({"material": "cheese"}, "Not a valid choice"),
        ({"closure": ""}, ""),
        ({"thickness": "thick"}, "digits 0 to 9"),
        ({"thickness": "14"}, "over 8 mm"),
        ({"backstay": "1/3"}, "A tape has"),
        ({"boots": "none"}, "Choose the boots to stretch"),
        ({"things-0-kind": "bag", "things-0-description": "black bag"}, "Type the work to do"),
        ({"things-0-jobs": "new handle"}, "Type what it is"),
        (
            {"things-0-description": "bag", "things-0-jobs": "zip", "things-0-day": "soon"},
            "year-month-day",
        ),
        ({"arrives": "2025-01-01"}, "has passed"),
        ({"note": "x" * 1001}, "1000 characters at most"),
        ({"target": "guess"}, "Not a valid choice"),
    ],
)
def test_what_cannot_be_taken_is_said_and_all_that_was_typed_is_still_there(
    counter: Counter, store: Store, changes: dict[str, object], says: str
):
    counter.get("/new")
    answer = counter.post("/new", **new_job(**changes))
    assert answer.status_code == 422
    assert says in " ".join(errors(answer)), errors(answer)
    for name, typed in {**new_job(), **changes}.items():
        if (
            name
            in (
                "phone",
                "name",
                "needed_by",
                "description",
                "thickness",
                "note",
                "things-0-jobs",
            )
            and typed
            and "\x00" not in str(typed)
        ):
            assert value(answer.text, name, rf'name="{name}"[^>]*? value="([^"]*)"') == typed
    assert (
        store.value(
            "SELECT (SELECT count(*) FROM tickets) + (SELECT count(*) FROM customers) + (SELECT"
            " count(*) FROM items)"
        )
        == 0
    )


def test_every_wrong_field_is_said_at_once(counter: Counter):
    counter.get("/new")
    wrong = {"phone": "x", "needed_by": "y", "email": "at home", "arrives": "z"}
    answer = counter.post("/new", **new_job(**wrong))
    assert len(errors(answer)) >= 5  # four fields, and the list at the top


def test_what_is_still_at_home_was_looked_at_by_nobody(
    counter: Counter, store: Store, clock: Clock, tmp_path: Path
):
    """No tick is asked for, and no sentence says that nothing was seen."""
    fit_id = taken_in(counter, arrives="2026-04-03", nothing_seen="")
    assert "Mark as arrived" in counter.get("/tickets/1").text
    clock.on(minutes=5)
    for one in items.of_ticket(store, 1):
        step = {"submission_id": fresh(), "version": str(one.version)}
        assert counter.post(f"/items/{one.id}/arrive", **step).status_code == 303
    counter.post(f"/fits/{fit_id}/measure", **gap_sheet())
    page = counter.get("/tickets/1/agree").text
    assert "Nobody has looked for damage since the boots came in." in page
    assert "No damage was seen" not in page
    assert 'name="initials"' not in page
    assert counter.post("/tickets/1/agree", **agreement(counter, 1)).status_code == 303
    here = shop.read(store)
    assert not documents_ticket.consent_record(store, here, 1, tmp_path).looked


def test_wrong_fields_of_one_part_are_said_at_once_too(counter: Counter, store: Store):
    counter.get("/new")
    typed = new_job(phone="x", email="marisol at home", thickness="9 mm", throat="wide")
    things = {"things-0-kind": "bag", "things-1-description": "belt"}
    answer = counter.post("/new", **{**typed, **things})
    names = [
        *("phone", "email", "thickness", "throat"),
        *("things-0-description", "things-0-jobs", "things-1-jobs"),
    ]
    for name in names:
        assert f'id="{name}-error"' in answer.text, name
    assert store.value("SELECT count(*) FROM tickets") == 0
