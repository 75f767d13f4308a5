"""A sheet of readings that was open for long: whoever was signed out meanwhile, and whatever key or
token died, every reading is still there, and saving again saves it.

The sheet is the real one, with twelve different readings on it. Each way of losing it is really
gone through.
"""

from __future__ import annotations

import json
import re
from pathlib import Path

import pytest
from flask import Flask
from support.cast import PASSPHRASE, Clock, Counter
from support.shop_phone import IDS, give_pins, opened
from support.shop_phone import taken_in as phone_taken_in
from system.open_sheet import (
    carried,
    fit_id,
    missing,
    raw,
    readings,
    save_again,
    sign_in_and_save,
    stored,
)

from fitcounter.desk.shop import Act, Store
from fitcounter.desk.staff import new_passphrase_or_pin, people, sign_in
from fitcounter.settings import Settings
from fitcounter.web import create_app

__all__ = ["fit_id"]


@pytest.mark.parametrize("hours", [2, 26])
def test_after_hours_in_a_pocket_it_is_kept_and_saved_after_signing_in(
    counter: Counter, store: Store, clock: Clock, fit_id: int, hours: int
) -> None:
    """Two hours: too long without a touch.

    Twenty-six: another shift. 401 with all twelve readings; sign in, one button, stored.
    """
    form = readings()
    clock.on(hours=hours)
    answer = raw(counter, f"/fits/{fit_id}/measure", form)
    assert (answer.status_code, missing(answer), stored(store)) == (401, [], 0)
    assert sign_in_and_save(counter, answer).status_code == 303
    assert stored(store) == 12
    assert store.value("SELECT count(*) FROM drafts WHERE kind = 'parked'") == 0


def test_after_days_when_the_cookie_is_gone_too_it_stands_on_the_page(
    counter: Counter, store: Store, clock: Clock, fit_id: int
) -> None:
    """The browser has forgotten the cookie: nothing is kept for a stranger, but the page holds it
    all, and saves it after signing in.
    """
    form = readings()
    path = f"/fits/{fit_id}/measure"
    clock.on(days=3)
    counter.client.delete_cookie("fitcounter")
    answer = raw(counter, path, form)
    assert (answer.status_code, missing(answer), stored(store)) == (401, [], 0)
    assert store.value("SELECT count(*) FROM drafts WHERE kind = 'parked'") == 0
    counter.sign_in()  # in another tab
    answer = save_again(counter, path, answer)
    assert (answer.status_code, missing(answer)) == (400, [])  # the token is of before
    assert save_again(counter, path, answer).status_code == 303
    assert stored(store) == 12


def test_on_a_phone_of_the_shop_two_hours_cost_one_tap(
    app: Flask, owner: Counter, counter: Counter, store: Store, clock: Clock, fit_id: int
) -> None:
    """The phone is still open; who it is is asked, and the tap saves."""
    give_pins(store)
    phone = opened(phone_taken_in(app, owner), "CO")
    path = f"/fits/{fit_id}/measure"
    phone.get(path)
    clock.on(hours=2)
    answer = raw(phone, path, readings())
    assert (answer.status_code, missing(answer), stored(store)) == (422, [], 0)
    assert phone.client.post(path, data={**carried(answer), "who": IDS["CO"]}).status_code == 303
    assert stored(store) == 12


def again(store: Store, tmp_path: Path, clock: Clock, counter: Counter) -> None:
    """Another process on the same data, with the phone's cookies as they were."""
    held = counter.client.get_cookie("fitcounter")
    assert held is not None
    counter.client = create_app(Settings(data_dir=tmp_path, testing=True), clock).test_client()
    counter.client.set_cookie("fitcounter", held.value)


def test_a_restart_of_the_server_is_not_noticed(
    counter: Counter, store: Store, tmp_path: Path, clock: Clock, fit_id: int
) -> None:
    """Sessions and keys are on the disk: saved as if nothing had happened."""
    form = readings()
    again(store, tmp_path, clock, counter)
    assert raw(counter, f"/fits/{fit_id}/measure", form).status_code == 303
    assert stored(store) == 12


def test_a_renewed_key_is_not_noticed(
    counter: Counter, store: Store, tmp_path: Path, clock: Clock, fit_id: int
) -> None:
    """The old secret key becomes a fallback, the key of the forms stays: an open form is saved."""
    form = readings()
    path = tmp_path / "keys.json"
    keys = json.loads(path.read_text())
    path.write_text(
        json.dumps(
            {**keys, "secret_key": "0123456789abcdef" * 4, "fallbacks": [keys["secret_key"]]}
        )
    )
    again(store, tmp_path, clock, counter)
    assert raw(counter, f"/fits/{fit_id}/measure", form).status_code == 303
    assert stored(store) == 12


def test_keys_renewed_without_care_lose_no_reading_either(
    counter: Counter, store: Store, tmp_path: Path, clock: Clock, fit_id: int
) -> None:
    """All keys are new and no fallback is left: everybody is signed out, and the page still holds
    what was typed.
    """
    form = readings()
    path = tmp_path / "keys.json"
    path.unlink()
    again(store, tmp_path, clock, counter)
    answer = raw(counter, f"/fits/{fit_id}/measure", form)
    assert (answer.status_code, missing(answer), stored(store)) == (401, [], 0)


def test_a_token_that_died_with_its_session_costs_one_tap(
    counter: Counter, store: Store, fit_id: int
) -> None:
    """Signed out and in again in another tab: 400, "press Save again", and that saves it."""
    form = {**readings(), "csrf_token": counter.token()}
    counter.post("/sign-out")
    counter.sign_in()
    path = f"/fits/{fit_id}/measure"
    answer = counter.client.post(path, data=form)
    assert (answer.status_code, missing(answer), stored(store)) == (400, [], 0)
    assert save_again(counter, path, answer).status_code == 303
    assert stored(store) == 12


@pytest.mark.parametrize("how", ["signed out", "killed by the owner", "passphrase changed"])
def test_signed_out_meanwhile_it_is_kept_for_its_person(
    counter: Counter, store: Store, clock: Clock, fit_id: int, how: str
) -> None:
    """By hand in another tab, from afar, or by a new passphrase: 401 with all readings; sign in,
    one button, stored.
    """
    form = readings()
    session_id = int(store.value("SELECT max(id) FROM sessions"))
    if how == "passphrase changed":
        new_passphrase_or_pin.set_secrets(
            store, Act(clock.now, 3), 1, passphrase="four other pine words"
        )
        new_passphrase_or_pin.set_secrets(store, Act(clock.now, 3), 1, passphrase=PASSPHRASE)
    else:
        sign_in.end_session(store, Act(clock.now, 3), session_id)
    answer = raw(counter, f"/fits/{fit_id}/measure", form)
    assert (answer.status_code, missing(answer), stored(store)) == (401, [], 0)
    assert sign_in_and_save(counter, answer).status_code == 303
    assert stored(store) == 12


def test_somebody_who_left_with_a_form_open_still_sees_what_they_typed(
    counter: Counter, store: Store, clock: Clock, fit_id: int
) -> None:
    """401, nothing written and nothing kept: the readings stand on the page, to be read aloud."""
    people.set_active(store, Act(clock.now, 3), 1, False)
    answer = raw(counter, f"/fits/{fit_id}/measure", readings())
    assert (answer.status_code, missing(answer), stored(store)) == (401, [], 0)
    assert store.value("SELECT count(*) FROM drafts WHERE kind = 'parked'") == 0


def test_what_was_kept_dies_after_two_weeks_and_opens_to_its_sender_only(
    counter: Counter, bench: Counter, stranger: Counter, store: Store, clock: Clock, fit_id: int
) -> None:
    """An id that nobody can guess; a stranger is sent to the door; an old one is gone."""
    clock.on(hours=2)
    answer = raw(counter, f"/fits/{fit_id}/measure", readings())
    parked = re.search(r"kept=([^\"]+)", answer.text)
    assert parked
    assert len(parked.group(1)) == 22
    assert stranger.get(f"/kept/{parked.group(1)}").status_code == 303
    assert bench.get(f"/kept/{parked.group(1)}").status_code == 404
    assert counter.get(f"/kept/{parked.group(1)}x").status_code == 404
    assert counter.get(f"/kept/{parked.group(1)}").status_code == 200
    clock.on(days=14)
    assert counter.get(f"/kept/{parked.group(1)}").status_code == 404
