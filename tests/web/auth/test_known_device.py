"""One right person is not kept out by another's wrong tries, nor a phone lost to old ones."""

from __future__ import annotations

from flask import Flask
from support.cast import PASSPHRASE, Clock, Counter
from support.shop_phone import IDS, PINS, give_pins, opened, taken_in
from support.sign_in_page import Door

from fitcounter.desk.shop import Store
from fitcounter.desk.staff import passphrase_and_pin


def test_wrong_tries_elsewhere_do_not_keep_out_who_was_here_before(
    app: Flask, clock: Clock
) -> None:
    """One wrong try as each wait ends, from the same address too: the person comes in at once on
    the device they know, and waits like anybody on a new one.
    """
    own, guesser = Door(app), Door(app)
    assert own.try_in("CO", PASSPHRASE).status_code == 303
    for _ in range(40):
        answer = guesser.try_in("CO", "not the right words at all")
        clock.on(seconds=int(answer.headers.get("Retry-After", 0)))
    assert guesser.try_in("CO", "not the right words at all").status_code in (422, 429)
    assert Door(app, "192.0.2.9").try_in("CO", PASSPHRASE).status_code == 429
    own.client.delete_cookie("fitcounter")
    assert own.try_in("CO", PASSPHRASE).status_code == 303


def test_a_known_device_has_few_tries_too_and_knows_its_own_people_only(app: Flask) -> None:
    own = Door(app)
    assert own.try_in("CO", PASSPHRASE).status_code == 303
    own.client.delete_cookie("fitcounter")
    codes = [own.try_in("CO", "not the right words at all").status_code for _ in range(6)]
    assert codes == [422] * 5 + [429]
    assert own.try_in("BE", "not the right words at all").status_code == 422
    cookie = own.client.get_cookie("fitcounter-known")
    assert cookie is not None
    assert cookie.http_only


def test_a_cookie_that_was_made_up_is_no_known_device(app: Flask) -> None:
    door = Door(app)
    for _ in range(5):
        door.try_in("CO", "not the right words at all")
    door.client.set_cookie("fitcounter-known", '["x",["y"]].abc')
    assert door.try_in("CO", PASSPHRASE).status_code == 429


def test_wrong_pins_of_days_ago_do_not_cost_the_phone(
    app: Flask, owner: Counter, store: Store, clock: Clock
) -> None:
    """Two wrong ones a day for three weeks: it is still a phone of the shop."""
    give_pins(store)
    phone = taken_in(app, owner)
    for _ in range(21):
        for _ in range(2):
            phone.get("/sign-in")
            assert phone.post("/open", who=IDS["BE"], pin="958203").status_code == 422
        clock.on(days=2)
    assert opened(phone).get("/").status_code == 200


def test_a_stranger_at_open_costs_no_hash(stranger: Counter) -> None:
    """Every turn at the hash is taken: whoever is no phone of the shop is answered all the same."""
    stranger.get("/sign-in")
    for _ in range(passphrase_and_pin.AT_ONCE):
        assert passphrase_and_pin._TURNS.acquire(timeout=1)
    try:
        answer = stranger.post("/open", who=IDS["BE"], pin=PINS["BE"])
    finally:
        passphrase_and_pin._TURNS.release(passphrase_and_pin.AT_ONCE)
    assert answer.status_code == 422


def test_five_minutes_after_the_pin_it_is_asked_for_again_whatever_was_sent_meanwhile(
    app: Flask, owner: Counter, store: Store, clock: Clock
) -> None:
    """Forms that need no PIN do not make the proof last."""
    give_pins(store)
    phone = opened(taken_in(app, owner), "OW")
    assert phone.get("/shop").status_code == 200
    for _ in range(3):
        clock.on(minutes=2)
        phone.get("/me")
        phone.post("/bench/plan", who=IDS["OW"])
    assert phone.get("/shop").status_code == 422
    assert phone.post("/prove", who=IDS["OW"], pin=PINS["OW"], next="/shop").status_code == 303
    assert phone.get("/shop").status_code == 200
