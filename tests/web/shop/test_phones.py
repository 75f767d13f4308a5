"""The shop's own phones: taken in by a code, opened by PIN once a shift, signed out, struck off
when lost.
"""

from __future__ import annotations

import re
from collections.abc import Callable

from flask import Flask
from support.cast import Clock, Counter
from support.shop_phone import IDS, PINS, guess, opened, taken_in

from fitcounter.desk.shop import Act, Store
from fitcounter.desk.staff import phones as staff_phones
from fitcounter.store import sessions


def test_a_phone_is_taken_in_with_one_scan_and_keeps_a_secret_the_file_does_not(
    app: Flask, owner: Counter, store: Store, pins: None
) -> None:
    """256 bits in a cookie for the phone alone; in the file only their hash."""
    phone = taken_in(app, owner)
    cookie = phone.client.get_cookie("fitcounter-phone")
    assert cookie is not None
    assert len(cookie.value) == 43  # 32 bytes as base64url
    assert cookie.http_only
    assert (cookie.same_site, cookie.path) == ("Lax", "/")
    assert cookie.value.encode() not in store.path.read_bytes()
    assert [one.label for one in sessions.phones(store)] == ["bench"]


def test_a_code_is_good_once_and_for_ten_minutes(
    app: Flask, store: Store, clock: Clock, stranger: Counter
) -> None:
    """Unknown 404, used 404, old 410."""
    code = staff_phones.new_code(store, Act(clock.now, 3))
    assert stranger.get(f"/phone/{code}").status_code == 200
    assert stranger.get(f"/phone/{code}x").status_code == 404
    assert (
        stranger.post(f"/phone/{code}", submission_id="enrol-00000001", label="").status_code == 422
    )
    clock.on(minutes=10)
    assert stranger.get(f"/phone/{code}").status_code == 410
    code = staff_phones.new_code(store, Act(clock.now, 3))
    assert (
        stranger.post(f"/phone/{code}", submission_id="enrol-00000002", label="counter").status_code
        == 303
    )
    assert stranger.get(f"/phone/{code}").status_code == 404


def test_the_pin_alone_opens_nothing_on_another_device(
    app: Flask, store: Store, pins: None
) -> None:
    """Without the phone's secret the right PIN reads like a wrong one, and no initials are shown to
    pick from.
    """
    stranger = Counter(app.test_client())
    page = stranger.get("/sign-in").text
    assert 'name="pin"' not in page
    right = stranger.post("/open", who=IDS["BE"], pin=PINS["BE"])
    wrong = stranger.post("/open", who=IDS["BE"], pin="111999")
    assert right.status_code == wrong.status_code == 422
    assert re.sub(r'value="[^"]*"', "", right.text) == re.sub(r'value="[^"]*"', "", wrong.text)


def test_a_phone_is_opened_once_a_shift(
    app: Flask, owner: Counter, pins: None, clock: Clock
) -> None:
    """Initials and PIN; open for ten hours however long it lies there, then once more."""
    phone = taken_in(app, owner)
    assert phone.get("/").status_code == 303
    opened(phone)
    clock.on(hours=9, minutes=59)
    assert phone.get("/").status_code == 200
    clock.on(minutes=1)
    assert phone.get("/").status_code == 303
    assert opened(phone).get("/").status_code == 200


def test_a_lost_phone_is_struck_off_in_one_action(
    phone: Counter, owner: Counter, store: Store
) -> None:
    """Its session and its secret open nothing from that moment."""
    assert phone.get("/").status_code == 200
    owner.get("/shop/phones")
    assert owner.post("/shop/phones/1/retire", submission_id="strike-00000001").status_code == 303
    assert phone.get("/").status_code == 303
    assert 'name="pin"' not in phone.get("/sign-in").text
    assert guess(phone, "BE", PINS["BE"]).status_code == 422


def test_a_session_of_a_phone_is_worth_nothing_without_the_phone(
    app: Flask, phone: Counter
) -> None:
    """The session's cookie copied to another device opens nothing."""
    held = phone.client.get_cookie("fitcounter")
    assert held is not None
    thief = app.test_client()
    thief.set_cookie("fitcounter", held.value)
    assert thief.get("/").status_code == 303


def test_signing_a_phone_out_leaves_it_a_phone_of_the_shop(phone: Counter) -> None:
    """The shift is over; initials and PIN begin the next."""
    assert phone.post("/sign-out").status_code == 303
    assert phone.get("/").status_code == 303
    assert opened(phone).get("/").status_code == 200


def test_a_full_disk_does_not_keep_a_phone_from_reading(
    somebody: Callable[[str], Counter], store: Store, clock: Clock, app: Flask
) -> None:
    """That the session was seen cannot be written; the page comes all the same."""
    counter = somebody("CO")
    clock.on(minutes=2)
    held = Store.write_tx
    from contextlib import contextmanager

    from fitcounter.errors import NoRoom

    @contextmanager
    def full(self: Store):
        raise NoRoom("full")
        yield

    Store.write_tx = full  # type: ignore[method-assign]
    try:
        assert counter.client.get("/me").status_code == 200
    finally:
        Store.write_tx = held  # type: ignore[method-assign]
