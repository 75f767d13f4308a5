"""One person's typing never becomes another's act: who may keep a form, and who sends it."""

from __future__ import annotations

import re

import pytest
from flask import Flask
from support.cast import Clock, Counter
from support.counter_forms import sheet, taken_in
from support.shop_phone import IDS, PINS, give_pins, opened
from support.shop_phone import taken_in as phone_taken_in
from werkzeug.test import TestResponse

from fitcounter.desk.shop import Act, Store
from fitcounter.desk.staff import people, sign_in, signed_out_forms
from fitcounter.store import staff
from fitcounter.web.guards.action_words import FROM_ITS_OWN_PAGE, WORDS

KEPT = "SELECT count(*) FROM drafts WHERE kind = 'parked'"
# What sends a form without being a form that one person of the shop could send on for another.
NO_ACT = ("owner.sign_out", "owner.prove", "counter.keep_draft")
ROLE = {"name": "Ben", "initials": "BE", "role": "owner"}


@pytest.fixture
def fit_id(counter: Counter) -> int:
    made = taken_in(counter)
    counter.get(f"/fits/{made}/measure")
    return made


def late(somebody: Counter, store: Store, clock: Clock, path: str, **form: object) -> TestResponse:
    """Somebody sends a form with the token of a page from before the owner ended their session."""
    somebody.get("/me")
    token = somebody.token()
    for row in store.rows("SELECT id FROM sessions WHERE ended_at IS NULL"):
        sign_in.end_session(store, Act(clock.now, 3), int(row["id"]))
    return somebody.client.post(path, data={"csrf_token": token, **form})


def kept_id(answer: TestResponse) -> str:
    link = re.search(r"kept=([^\"]+)", answer.text)
    assert link, answer.text
    return link.group(1)


def test_what_somebody_may_not_do_themselves_is_not_kept_for_the_owners_tap(
    bench: Counter, store: Store, clock: Clock
) -> None:
    """The bench signed out, sends "make me owner": nothing waits, and their role stays."""
    answer = late(bench, store, clock, "/shop/people/2", **ROLE)
    assert (answer.status_code, store.value(KEPT)) == (401, 0)


@pytest.mark.parametrize("path", ["/shop/people/2", "/shop/customers/1/erase", "/shop/phones"])
def test_what_lets_people_in_or_erases_is_kept_for_nobody(
    owner: Counter, store: Store, clock: Clock, path: str
) -> None:
    """Not even for the owner, and the page of the refusal has no button that sends it on."""
    answer = late(owner, store, clock, path, **ROLE)
    assert (answer.status_code, store.value(KEPT)) == (401, 0)
    assert "Save again" not in answer.text


def test_a_form_without_the_sessions_own_token_is_not_kept(
    counter: Counter, store: Store, clock: Clock, fit_id: int
) -> None:
    counter.post("/sign-out")
    for token in ({}, {"csrf_token": "x"}):
        answer = counter.client.post(f"/fits/{fit_id}/measure", data={**sheet(), **token})
        assert (answer.status_code, store.value(KEPT)) == (401, 0)


def test_a_form_from_another_device_than_its_sessions_phone_is_not_kept(
    app: Flask, owner: Counter, counter: Counter, store: Store, clock: Clock, fit_id: int
) -> None:
    """A cookie taken out of a phone of the shop keeps nothing without the phone's own secret."""
    give_pins(store)
    phone = opened(phone_taken_in(app, owner), "CO")
    path = f"/fits/{fit_id}/measure"
    phone.get(path)
    phone.client.delete_cookie("fitcounter-phone")
    answer = phone.client.post(path, data={"csrf_token": phone.token(), **sheet()})
    assert (answer.status_code, store.value(KEPT)) == (401, 0)


def test_only_its_sender_sees_a_form_that_waits_and_only_they_save_it(
    counter: Counter, owner: Counter, store: Store, clock: Clock, fit_id: int
) -> None:
    """The owner sees that there is one; its page is not theirs, nor is its saving."""
    answer = late(counter, store, clock, f"/fits/{fit_id}/measure", **sheet())
    form_id = kept_id(answer)
    owner.sign_in()
    page = owner.get("/shop").text
    assert "CO, " in page
    assert "/kept/" not in page
    assert owner.get(f"/kept/{form_id}").status_code == 404
    refused = owner.post(f"/fits/{fit_id}/measure", **sheet(), parked=form_id)
    assert (refused.status_code, store.value("SELECT count(*) FROM boot_readings")) == (403, 0)
    assert store.value(KEPT) == 1


def test_the_page_of_a_form_that_waits_says_what_it_does(
    counter: Counter, store: Store, clock: Clock, fit_id: int
) -> None:
    form_id = kept_id(late(counter, store, clock, f"/fits/{fit_id}/measure", **sheet()))
    counter.sign_in()
    assert "<p>Save measurements</p>" in counter.get(f"/kept/{form_id}").text
    assert f"/kept/{form_id}" in counter.get("/me").text


def test_nothing_is_kept_for_somebody_who_has_left(
    counter: Counter, store: Store, clock: Clock, fit_id: int
) -> None:
    """What waited goes when they leave, and what comes afterwards is not kept."""
    path = f"/fits/{fit_id}/measure"
    late(counter, store, clock, path, **sheet())
    assert store.value(KEPT) == 1
    people.set_active(store, Act(clock.now, 3), 1, False)
    assert store.value(KEPT) == 0
    answer = counter.client.post(path, data={"csrf_token": counter.token(), **sheet()})
    assert (answer.status_code, store.value(KEPT)) == (401, 0)


def test_a_person_has_room_for_twenty_and_pushes_out_nobody_elses(
    store: Store, clock: Clock
) -> None:
    signed_out_forms.keep(store, Act(clock.now, 1), "/items/1/prepare", [("prepared", "dry")])
    for _ in range(30):
        signed_out_forms.keep(store, Act(clock.now, 2), "/items/1/prepare", [("prepared", "dry")])
    assert len(signed_out_forms.everything(store, clock.now, 1)) == 1
    assert len(signed_out_forms.everything(store, clock.now, 2)) == 20


def test_a_form_handed_on_for_a_pin_says_what_the_pin_does(
    app: Flask, owner: Counter, store: Store, clock: Clock
) -> None:
    """The bench sends "make me owner" from a phone of the shop: whoever types a PIN reads it."""
    give_pins(store)
    phone = opened(phone_taken_in(app, owner))
    question = phone.post("/shop/people/2", **ROLE)
    assert question.status_code == 422
    assert "<p>Change somebody’s name, initials or role</p>" in question.text
    assert "<dd>owner</dd>" in question.text
    assert phone.post("/shop/people/2", **ROLE, who=IDS["BE"], pin=PINS["BE"]).status_code == 422
    assert staff.get(store, 2).role == "bench"  # type: ignore[union-attr]


def test_a_form_left_on_a_page_is_not_sent_on_by_whoever_signs_in_next(
    bench: Counter, store: Store, clock: Clock
) -> None:
    """The owner signs in on the same device, where "make me owner" stands on an old page: its token
    is dead, and no button gives it a new one.
    """
    bench.get("/me")
    form = {"csrf_token": bench.token(), **ROLE}
    bench.post("/sign-out")
    bench.initials = "OW"
    bench.sign_in()
    answer = bench.client.post("/shop/people/2", data=form)
    assert answer.status_code == 400
    assert "Save again</" not in answer.text
    assert staff.get(store, 2).role == "bench"  # type: ignore[union-attr]


def test_every_form_of_the_staff_is_said_in_words(app: Flask) -> None:
    """A new form is told in one of the two tables, or the pages above would be silent about it."""
    sent = {
        rule.endpoint
        for rule in app.url_map.iter_rules()
        if "POST" in (rule.methods or ())
        and "anyone" not in getattr(app.view_functions[rule.endpoint], "allowed", ("anyone",))
    }
    assert sent - set(NO_ACT) == set(WORDS) | set(FROM_ITS_OWN_PAGE)
    assert set(WORDS) & set(FROM_ITS_OWN_PAGE) == set()
