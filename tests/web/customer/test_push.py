"""A customer's page offers messages where the shop sends them, and takes only what it may."""

from __future__ import annotations

import pytest
from support.cast import Clock, Counter
from support.push_service import ANY_PHONE
from support.ticket_rows import Job

from fitcounter.desk.messages import push_allowed_services
from fitcounter.store import push_phones, pushes, settings
from fitcounter.store.database import Store


@pytest.fixture
def on(store: Store) -> None:
    with store.write_tx():
        settings.put(store, "push", {"on": True, "hosts": ["fcm.googleapis.com"]})


def test_where_the_shop_sends_none_the_page_says_to_keep_it_open_and_offers_nothing(
    stranger: Counter, home: str, clock: Clock
):
    clock.on(hours=9)
    page = stranger.get(f"/c/{home}").text
    assert "Keep this page open, or set a kitchen timer." in page
    assert "data-push" not in page
    assert stranger.post(f"/c/{home}/push", **ANY_PHONE).status_code == 422


def test_it_is_offered_with_what_it_does_asked_for_and_ended_by_a_plain_form(
    stranger: Counter, store: Store, home: str, job: Job, clock: Clock, on: None, tmp_path
):
    clock.on(hours=9)
    page = stranger.get(f"/c/{home}").text
    assert f'data-key="{push_allowed_services.public_key(tmp_path)}"' in page
    assert "tell you when your boots come off, even while it is locked" in page
    assert "Add to Home Screen" in page
    assert stranger.post(f"/c/{home}/push", **ANY_PHONE).status_code == 204
    (phone,) = push_phones.of_ticket(store, job.ticket_id)
    assert (phone.endpoint, phone.language) == (ANY_PHONE["endpoint"], "en")
    answer = stranger.post(f"/c/{home}/clock", n="1", clock="17", ago="60")
    assert answer.status_code == 204
    assert [one.kind for one in pushes.QUEUE.of_ticket(store, job.ticket_id)] == ["take-off"]
    assert stranger.post(f"/c/{home}/clock", clock="").status_code == 204
    assert stranger.post(f"/c/{home}/push/end").status_code == 303
    assert push_phones.of_ticket(store, job.ticket_id) == []


@pytest.mark.parametrize(
    "endpoint",
    [
        "https://127.0.0.1/x",
        "https://[::1]/x",
        "http://fcm.googleapis.com/x",
        "https://a.example/x",
    ],
)
def test_a_place_inside_or_off_the_list_is_refused_in_a_sentence_on_the_page(
    stranger: Counter, store: Store, home: str, clock: Clock, on: None, endpoint: str
):
    stranger.get(f"/c/{home}")
    answer = stranger.post(f"/c/{home}/push", **{**ANY_PHONE, "endpoint": endpoint})
    assert answer.status_code == 422
    assert "not on the shop’s list, so it was not saved" in answer.text
    assert push_phones.count(store) == 0


@pytest.mark.parametrize("typed", [{"n": "x", "ago": "1"}, {"n": "1", "ago": "-1"}, {"n": "1"}])
def test_a_clock_that_is_none_is_refused(
    stranger: Counter, home: str, clock: Clock, typed: dict[str, str]
):
    stranger.get(f"/c/{home}")
    answer = stranger.post(f"/c/{home}/clock", clock="17", **typed)
    assert answer.status_code == 422
    assert "Load the page again." in answer.text
