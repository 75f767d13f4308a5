"""What goes when somebody is erased, row by row, and what stays because it is the shop's."""

from __future__ import annotations

import pytest
from support.ticket_rows import Job, make_job

from fitcounter.store import customers, drafts, erasing, findings, tickets
from fitcounter.store.database import Act, Store

PHOTO = "before-1.jpg"


@pytest.fixture
def customer_id(store: Store, job: Job) -> int:
    return tickets.get(store, job.ticket_id).customer_id


def add_photo(store: Store, job: Job) -> None:
    with store.write_tx():
        store.insert(
            "photos",
            ticket_id=job.ticket_id,
            moment="before",
            file=PHOTO,
            width_px=1,
            height_px=1,
            bytes=1,
            content_hash="0",
            taken_at="2026-03-17T14:00:00Z",
        )


def hand_over(store: Store, job: Job, at: str) -> None:
    with store.write_tx():
        store.change("tickets", job.ticket_id, state="out", handed_over_at=at)


def clear(store: Store, act: Act, customer_id: int):
    with store.write_tx():
        return erasing.clear(store, act, customer_id)


def test_words_about_a_person_go_and_what_was_seen_on_the_boots_stays(
    store: Store, act: Act, job: Job, customer_id: int
):
    add_photo(store, job)
    with store.write_tx():
        findings.add(store, act, job.left, "zip-worn", place="top", note="she limps")
    line = clear(store, act, customer_id)
    gone = customers.get(store, customer_id)
    assert (gone.name, gone.phone_e164, gone.phone_last4) == (erasing.NAME, "", "")
    assert line.files == (f"photos/{PHOTO}",)
    assert erasing.erased_photos(store) == [f"photos/{PHOTO}"]
    (seen,) = findings.of_item(store, job.left)
    assert (seen.word, seen.place, seen.note) == ("zip-worn", "top", "")


def test_nobody_else_is_touched(store: Store, act: Act, customer_id: int):
    other = make_job(store, act, "Tobias Aarnes")
    clear(store, act, customer_id)
    assert customers.by_name(store, "Tobias")[0].phone_last4 == "0142"
    assert erasing.open_tickets(store, tickets.get(store, other.ticket_id).customer_id) == [2]


def test_a_form_that_was_begun_with_the_name_the_number_or_the_ticket_goes_too(
    store: Store, act: Act, job: Job, customer_id: int
):
    begun = {
        "name": [("who", "marisol okafor lind")],
        "number": [("phone", "+1 555 010 0142")],
        "ticket": [("note", "wide calf")],
        "other": [("who", "Tobias")],
    }
    with store.write_tx():
        for key, typed in begun.items():
            words = f"/tickets/{job.ticket_id}/agree" if key == "ticket" else ""
            drafts.put(store, act, key, "new-job", typed, words)
    clear(store, act, customer_id)
    assert [draft.id for draft in drafts.of_kind(store, "new-job")] == ["other"]


def test_a_form_begun_under_a_name_that_was_put_right_since_still_goes(
    store: Store, act: Act, customer_id: int
):
    with store.write_tx():
        drafts.put(store, act, "old", "new-job", [("who", "Marisol Okafor-Lind")], "")
        erasing.mark_drafts(store, customer_id)
        store.change("customers", customer_id, name="Marisa", name_key=" marisa")
    clear(store, act, customer_id)
    assert drafts.get(store, "old") is None


def test_a_person_of_an_older_copy_is_known_by_when_the_record_was_made(
    store: Store, act: Act, customer_id: int
):
    line = clear(store, act, customer_id)
    assert not erasing.is_back(store, line)
    with store.write_tx():
        store.change("customers", customer_id, erased_at=None)
    assert erasing.is_back(store, line)
    with store.write_tx():
        store.change("customers", customer_id, created_at="2020-01-01T00:00:00Z")
    assert not erasing.is_back(store, line)


def test_photos_are_over_only_once_the_boots_went_out_before_the_day(store: Store, job: Job):
    add_photo(store, job)
    assert erasing.photos_over(store, "2030-01-01") == []
    hand_over(store, job, "2026-03-20T10:00:00Z")
    assert erasing.photos_over(store, "2026-03-20T10:00:00Z") == []
    assert erasing.photos_over(store, "2026-03-20T10:00:01Z") == [PHOTO]


def test_legs_of_a_job_that_is_open_are_kept_however_old(store: Store, job: Job):
    with store.write_tx():
        store.insert(
            "leg_readings",
            fit_id=job.fit_id,
            side="left",
            height_um=254_000,
            height_text="10",
            girth_um=368_300,
            girth_text="14 1/2",
            unit="in",
            repeat=1,
            read_at="2020-01-01T00:00:00Z",
        )
        assert erasing.forget_legs(store, "2026-01-01") == 0
    hand_over(store, job, "2020-02-01T10:00:00Z")
    with store.write_tx():
        assert erasing.forget_legs(store, "2026-01-01") == 1
