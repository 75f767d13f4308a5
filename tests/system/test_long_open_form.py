"""A sheet of readings that was open for long: whatever happened meanwhile, every reading is still
there, and saving again saves it.

The sheet is the real one, with twelve different readings on it. Each way of losing it is really
gone through.
"""

from __future__ import annotations

import json
import re
from collections.abc import Callable
from html import unescape
from pathlib import Path

import pytest
from flask import Flask
from support.cast import PASSPHRASE, Clock, Counter
from support.counter_forms import fresh, sheet, taken_in
from support.disk_trouble import full_disk, locked, read_only
from support.shop_phone import IDS, give_pins, opened
from support.shop_phone import taken_in as phone_taken_in
from werkzeug.test import TestResponse

from fitcounter.desk import shop
from fitcounter.desk.measuring import save as measuring_save
from fitcounter.desk.shop import Act, Store
from fitcounter.desk.staff import new_passphrase_or_pin, people, sign_in
from fitcounter.settings import Settings
from fitcounter.store import fits
from fitcounter.web import create_app

CELLS = {
    "gap_left_0": "3/8",
    "gap_right_0": "7/16",
    "boot_left_0": "12 7/8",
    "boot_right_0": "12 15/16",
    "gap_left_1": "5/8",
    "gap_right_1": "11/16",
    "boot_left_1": "13 5/8",
    "boot_right_1": "13 9/16",
    "gap_left_2": "1/2",
    "gap_right_2": "9/16",
    "boot_left_2": "14",
    "boot_right_2": "14 1/16",
}


def readings(**more: object) -> dict[str, object]:
    return {**sheet(), **CELLS, **more}


@pytest.fixture
def fit_id(counter: Counter) -> int:
    made = taken_in(counter)
    counter.get(f"/fits/{made}/measure")
    return made


def stored(store: Store) -> int:
    return int(
        store.value(
            "SELECT (SELECT count(*) FROM gap_readings) + (SELECT count(*) FROM boot_readings)"
        )
    )


def missing(answer: TestResponse) -> list[str]:
    """The readings that the page has lost, as fields that travel on and as words to read."""
    shown = {unescape(value) for value in re.findall(r'(?:value="|<dd>)([^"<]*)', answer.text)}
    return [text for text in CELLS.values() if text not in shown]


def carried(answer: TestResponse, action: str = "") -> dict[str, str]:
    """The hidden fields of the form that saves again."""
    form = next(
        one
        for one in re.findall(r"<form method=\"post\".*?</form>", answer.text, re.DOTALL)
        if 'name="gap_left_0"' in one
    )
    return {
        name: unescape(value)
        for name, value in re.findall(r'<input type="hidden" name="([^"]+)" value="([^"]*)"', form)
    }


def raw(counter: Counter, path: str, data: dict[str, object], **more: object) -> TestResponse:
    """Sends what an old page holds: its own token, and nobody signs in first."""
    return counter.client.post(path, data={"csrf_token": counter.token(), **data}, **more)


def save_again(counter: Counter, path: str, answer: TestResponse) -> TestResponse:
    return counter.client.post(path, data=carried(answer))


def sign_in_and_save(counter: Counter, answer: TestResponse) -> TestResponse:
    """From the page that says "signed out": through the door, to what was kept, one button."""
    door = re.search(r'href="(/sign-in\?kept=[^"]+)"', answer.text)
    assert door, answer.text
    page = counter.client.get(door.group(1))
    token = re.search(r'name="csrf_token" value="([^"]+)"', page.text)
    assert token
    typed = {"csrf_token": token.group(1), "initials": "CO", "passphrase": PASSPHRASE}
    there = counter.client.post(door.group(1), data=typed)
    assert there.status_code == 303
    kept = counter.client.get(there.location)
    assert kept.status_code == 200
    assert missing(kept) == []
    action = re.search(r'<form method="post" action="([^"]+)"', kept.text)
    assert action
    return counter.client.post(unescape(action.group(1)), data=carried(kept))


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


def test_too_large_keeps_what_a_hand_can_type(counter: Counter, store: Store, fit_id: int) -> None:
    """A reading of 300 KB, 413: the eleven others are on the page and are saved from it."""
    path = f"/fits/{fit_id}/measure"
    answer = raw(counter, path, readings(boot_right_2="9" * 300_000))
    assert (answer.status_code, missing(answer), stored(store)) == (413, ["14 1/16"], 0)
    assert "9" * 100 not in answer.text
    assert save_again(counter, path, answer).status_code in (303, 422)


def test_a_picture_too_large_keeps_the_words_beside_it(
    counter: Counter, store: Store, fit_id: int
) -> None:
    """Thirty megabytes: 413, and the fields that came before the picture are still there."""
    before = b"".join(
        b'--x\r\nContent-Disposition: form-data; name="%s"\r\n\r\n%s\r\n'
        % (k.encode(), str(v).encode())
        for k, v in readings().items()
    )
    body = (
        before
        + b'--x\r\nContent-Disposition: form-data; name="photo"; filename="p.jpg"\r\n\r\n'
        + b"\xff" * 30_000_000
        + b"\r\n--x--\r\n"
    )
    for path in (f"/fits/{fit_id}/measure", "/items/1/photos"):
        token = counter.token()
        answer = counter.client.post(
            path,
            data=body,
            content_type="multipart/form-data; boundary=x",
            headers={"X-CSRFToken": token},
        )
        assert (answer.status_code, missing(answer), stored(store)) == (413, [], 0), path


def test_two_who_measured_both_stand_on_the_page(
    counter: Counter, owner: Counter, store: Store, fit_id: int
) -> None:
    """409 with what is stored and with what was typed; saving again is a choice somebody made."""
    version = str(fits.get(store, fit_id).version)
    owner.get(f"/fits/{fit_id}/measure")
    theirs = {**readings(), "boot_left_0": "12 1/2", "version": version}
    assert owner.post(f"/fits/{fit_id}/measure", **theirs).status_code == 303
    path = f"/fits/{fit_id}/measure"
    answer = raw(counter, path, readings(version=version))
    assert (answer.status_code, missing(answer)) == (409, [])
    assert "12 1/2" in answer.text
    assert (
        store.value(
            "SELECT girth_text FROM boot_readings WHERE height_text LIKE '10 1/2%' AND item_id = 1"
        )
        == "12 1/2"
    )
    assert save_again(counter, path, answer).status_code == 303
    assert (
        store.value(
            "SELECT girth_text FROM boot_readings WHERE height_text LIKE '10 1/2%' AND item_id = 1"
        )
        == "12 7/8"
    )


@pytest.mark.parametrize(("trouble", "code"), [(full_disk, 507), (locked, 503), (read_only, 503)])
def test_a_full_or_busy_disk_keeps_it_and_saves_it_afterwards(
    counter: Counter,
    store: Store,
    fit_id: int,
    monkeypatch: pytest.MonkeyPatch,
    trouble: Callable[..., object],
    code: int,
) -> None:
    """507 or 503 with all readings, nothing half written, pages still open; when there is room
    again one tap saves it.
    """
    path = f"/fits/{fit_id}/measure"
    with trouble(store, monkeypatch):  # type: ignore[attr-defined]
        answer = raw(counter, path, readings())
        assert counter.client.get("/me").status_code == 200
    assert (answer.status_code, missing(answer), stored(store)) == (code, [], 0)
    assert ("Retry-After" in answer.headers) is (code == 503)
    assert save_again(counter, path, answer).status_code == 303
    assert stored(store) == 12


def test_a_mistake_of_ours_keeps_it_too(
    app: Flask, counter: Counter, store: Store, fit_id: int, monkeypatch: pytest.MonkeyPatch
) -> None:
    """500 with all readings; when it is mended one tap saves it."""
    app.config["PROPAGATE_EXCEPTIONS"] = False
    path = f"/fits/{fit_id}/measure"
    with monkeypatch.context() as patch:
        patch.setattr(measuring_save, "save", lambda *_: 1 / 0)
        answer = raw(counter, path, readings())
    assert (answer.status_code, missing(answer), stored(store)) == (500, [], 0)
    assert save_again(counter, path, answer).status_code == 303
    assert stored(store) == 12


def test_sent_again_after_the_answer_was_lost_it_is_stored_once(
    counter: Counter, store: Store, fit_id: int
) -> None:
    """The same submission id: the second answer is the first result."""
    form = readings(submission_id=fresh())
    path = f"/fits/{fit_id}/measure"
    first, second = raw(counter, path, form), raw(counter, path, form)
    assert (first.status_code, second.status_code, first.location) == (303, 303, second.location)
    assert stored(store) == 12


def test_heights_that_the_shop_gave_up_meanwhile_lose_no_reading(
    counter: Counter, store: Store, clock: Clock, fit_id: int
) -> None:
    """A sheet of five lines comes in where the shop asks for three by now: all five are stored, or
    all stand there again.
    """
    shop.choose(store, Act(clock.now), heights_mm=[114.3, 165.1, 203.2, 266.7, 317.5])
    five = {
        f"height_{row}": text
        for row, text in enumerate(("4 1/2", "6 1/2", "8", "10 1/2", "12 1/2"))
    }
    five |= {f"gap_{side}_{row}": "3/8" for side in ("left", "right") for row in range(5)}
    five |= {
        f"boot_{side}_{row}": f"{11 + row} 1/2" for side in ("left", "right") for row in range(5)
    }
    shop.choose(store, Act(clock.now), heights_mm=[114.3, 203.2, 317.5])
    wrong = raw(
        counter, f"/fits/{fit_id}/measure?depth=whole", {**sheet(), **five, "gap_left_0": "three"}
    )
    assert (wrong.status_code, stored(store)) == (422, 0)
    assert [text for text in five.values() if f'value="{text}"' not in wrong.text] == []
    assert (
        raw(counter, f"/fits/{fit_id}/measure?depth=whole", {**sheet(), **five}).status_code == 303
    )
    assert stored(store) == 20
