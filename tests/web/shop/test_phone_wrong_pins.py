"""Wrong PINs on a phone of the shop: a wait that grows for that person, and in the end the phone is
struck off.
"""

from __future__ import annotations

from flask import Flask
from support.cast import Clock, Counter
from support.shop_phone import PINS, guess, taken_in

from fitcounter.desk.shop import Store
from fitcounter.store import sessions


def test_five_wrong_pins_then_a_growing_wait_for_that_person_alone(
    app: Flask, owner: Counter, pins: None, clock: Clock
) -> None:
    """1, 2, 4 … seconds with Retry-After; the others on the same phone are not held up; another
    phone neither.
    """
    phone, other = taken_in(app, owner), taken_in(app, owner, "counter")
    phone.get("/sign-in")
    other.get("/sign-in")
    assert [guess(phone).status_code for _ in range(5)] == [422] * 5
    waits = []
    for _ in range(4):
        answer = guess(phone, pin=PINS["CO"])
        assert answer.status_code == 429
        waits.append(int(answer.headers["Retry-After"]))
        clock.on(seconds=waits[-1])
        assert guess(phone).status_code == 422
    assert waits == [1, 2, 4, 8]
    assert guess(phone).status_code == 429
    assert guess(other, "CO", PINS["CO"]).status_code == 303
    assert guess(phone, "BE", PINS["BE"]).status_code == 303


def test_twenty_wrong_pins_in_a_row_strike_the_phone_off(
    app: Flask, owner: Counter, store: Store, pins: None, clock: Clock
) -> None:
    """Whoever they were for.

    The passphrase still opens; the odds of a guess were 20 in a million.
    """
    phone = taken_in(app, owner)
    phone.get("/sign-in")
    for number in range(20):
        clock.on(seconds=301)
        answer = guess(phone, ("CO", "BE", "OW")[number % 3])
        assert answer.status_code == 422
    assert "this phone is removed from the shop" in answer.text
    assert sessions.phones(store)[0].struck_at is not None
    assert guess(phone, "CO", PINS["CO"]).status_code == 422
    phone.initials = "CO"
    assert phone.sign_in().get("/").status_code == 200


def test_a_right_pin_forgets_the_wrong_ones(
    app: Flask, owner: Counter, store: Store, pins: None
) -> None:
    """Failures count in a row."""
    phone = taken_in(app, owner)
    for _ in range(6):
        phone.get("/sign-in")
        assert [guess(phone).status_code for _ in range(4)] == [422] * 4
        assert guess(phone, "CO", PINS["CO"]).status_code == 303
    assert sessions.phones(store)[0].struck_at is None
