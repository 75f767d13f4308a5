"""A customer's details: two people at once, and what is in the audit."""

from __future__ import annotations

import json
from html import unescape

import pytest
from support.cast import Clock, Counter
from support.details_form import HER, RIGHT, form, her, page_of, shelved_job
from support.ticket_rows import Job

from fitcounter.store import audit_key, customers, integrity
from fitcounter.store.database import Act, Store


@pytest.fixture
def job(store: Store, clock: Clock) -> Job:
    return shelved_job(store, Act(clock.now, 1))


def test_saved_as_it_stood_nothing_changes(counter: Counter, store: Store, job: Job):
    counter.get(page_of(job))
    before = integrity.content_hash(store)
    assert counter.post(page_of(job), **form(store, job)).status_code == 303
    assert (integrity.content_hash(store), her(store, job).version) == (before, 1)


def test_of_two_at_once_the_second_sees_both_texts(counter: Counter, store: Store, job: Job):
    counter.get(page_of(job))
    mine = form(store, job, name="Maud", phone="(412) 555-0199")
    counter.post(page_of(job), **form(store, job, **RIGHT))
    answer = counter.post(page_of(job), **mine)
    page = unescape(answer.text)
    assert answer.status_code == 409
    assert all(
        text in page
        for text in (
            "Someone changed this while you were typing",
            "Maud",
            "(412) 555-0199",
            *RIGHT.values(),
        )
        if text != "es"
    )
    assert her(store, job).name == RIGHT["name"]


def seen() -> dict[str, object]:
    """What stood on the page, as it travels with the form."""
    return {f"was_{name}": value for name, value in HER.items()}


def test_of_two_who_changed_other_fields_nobody_is_asked_and_nothing_is_lost(
    counter: Counter, store: Store, job: Job
):
    counter.get(page_of(job))
    mine = form(store, job, name="Maud", **seen())
    theirs = form(store, job, email="m@example.org", note="ring twice", **seen())
    assert counter.post(page_of(job), **theirs).status_code == 303
    assert counter.post(page_of(job), **mine).status_code == 303
    now = her(store, job)
    assert (now.name, now.email, now.note) == ("Maud", "m@example.org", "ring twice")


def test_of_two_who_wrote_a_note_both_are_kept_and_saving_again_reverts_nobodys(
    counter: Counter, store: Store, job: Job
):
    counter.get(page_of(job))
    mine = form(store, job, note="call after five", phone="(412) 555-0199", **seen())
    theirs = form(store, job, note="ring twice", phone="(412) 555-0166", **seen())
    assert counter.post(page_of(job), **theirs).status_code == 303
    answer = counter.post(page_of(job), **mine)
    assert answer.status_code == 409, "both changed the number"
    assert "was note" not in answer.text.casefold()
    assert her(store, job).note == "ring twice"
    again = {name: value for name, value in mine.items() if name != "version"}
    assert counter.post(page_of(job), **again).status_code == 303
    now = her(store, job)
    assert (now.note, now.phone_typed) == ("ring twice\ncall after five", "(412) 555-0199")


def test_the_audit_says_which_were_changed_without_a_name_or_a_number(
    counter: Counter, store: Store, job: Job
):
    counter.get(page_of(job))
    before = store.value("SELECT max(id) FROM audit")
    counter.post(page_of(job), **form(store, job, **RIGHT))
    rows = store.rows("SELECT * FROM audit WHERE id > ?", before)
    assert [row["what"] for row in rows] == ["customer-changed"]
    changed = [
        "email",
        "language",
        "name",
        "name_key",
        "note",
        "phone_e164",
        "phone_last4",
        "phone_typed",
    ]
    assert json.loads(rows[0]["detail"]) == {"customer": her(store, job).id, "changed": changed}
    assert integrity.broken_link(store, audit_key.of_folder(store.path.parent)) is None


def test_a_number_that_somebody_else_has_too_is_said_and_saved(
    counter: Counter, store: Store, job: Job, clock: Clock
):
    with store.write_tx():
        customers.add(store, Act(clock.now), "Rowan", ("(412) 555-0177", "+14125550177", "0177"))
    counter.get(page_of(job))
    answer = counter.post(page_of(job), **form(store, job, phone="412 555 0177"))
    assert "Another customer has this phone number too." in unescape(
        counter.get(answer.location).text
    )
    assert her(store, job).phone_e164 == "+14125550177"
