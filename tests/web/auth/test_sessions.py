"""When a session is over: signed out, idle, too long, or gone with what it stood on."""

from __future__ import annotations

from datetime import timedelta

import pytest
from flask import Flask
from flask.testing import FlaskClient
from support.cast import Clock, Counter
from support.sign_in_page import cookie

from fitcounter.desk.shop import Act, Store
from fitcounter.desk.staff import new_passphrase_or_pin, people, sign_in


def leave(client: FlaskClient, store: Store, clock: Clock) -> None:
    people.set_active(store, Act(clock.now, 3), 1, False)


def new_words(client: FlaskClient, store: Store, clock: Clock) -> None:
    new_passphrase_or_pin.set_secrets(
        store, Act(clock.now, 3), 1, passphrase="four other pine words"
    )


def another_role(client: FlaskClient, store: Store, clock: Clock) -> None:
    people.change_person(store, Act(clock.now, 3), 1, None, "Cora", "CO", "bench")


def killed(client: FlaskClient, store: Store, clock: Clock) -> None:
    sign_in.end_session(store, Act(clock.now, 3), store.value("SELECT max(id) FROM sessions"))


@pytest.mark.parametrize("what", [leave, new_words, another_role, killed])
def test_a_session_ends_with_what_it_stood_on(
    counter: Counter, store: Store, clock: Clock, what
) -> None:
    """Somebody left, a passphrase was renewed, a role changed, a session was ended: the cookie
    opens nothing at once.
    """
    assert counter.client.get("/").status_code == 200
    what(counter.client, store, clock)

    assert counter.client.get("/").status_code == 303
    assert (
        counter.client.get("/ready.json", headers={"Accept": "application/json"}).status_code == 401
    )


def test_signing_out_kills_the_cookie_and_clears_the_phone(counter: Counter) -> None:
    """The cookie of before, played again, opens nothing; the browser is told to forget."""
    counter.get("/me")
    held = cookie(counter.client)
    answer = counter.post("/sign-out")
    assert answer.status_code == 303
    assert answer.headers["Clear-Site-Data"] == '"cache", "storage"'
    counter.client.set_cookie("fitcounter", held)

    assert counter.client.get("/").status_code == 303


def test_half_an_hour_of_nothing_ends_a_session_elsewhere(counter: Counter, clock: Clock) -> None:
    """Work keeps it open; thirty minutes of nothing end it."""
    for _ in range(4):
        clock.on(minutes=29)
        assert counter.client.get("/me").status_code == 200
    clock.on(minutes=30)
    assert counter.client.get("/me").status_code == 303


def test_ten_hours_end_every_session(counter: Counter, clock: Clock) -> None:
    """However busy it was."""
    for _ in range(29):
        clock.on(minutes=20)
        assert counter.client.get("/me").status_code == 200
    clock.on(minutes=20)
    assert counter.client.get("/me").status_code == 303


@pytest.mark.parametrize("back", [timedelta(hours=1), timedelta(days=20000)])
def test_a_clock_set_back_makes_no_session_immortal(
    counter: Counter, clock: Clock, back: timedelta
) -> None:
    """A dead battery, 1970: everybody signs in once more."""
    clock.now -= back
    assert counter.client.get("/me").status_code == 303


@pytest.mark.parametrize(
    "value", ["", "rubbish", "eyJ0b2tlbiI6ImEifQ.aaaa.bbbb", "x" * 8000, "\u00ff"]
)
def test_a_cookie_that_is_rubbish_is_a_strangers(app: Flask, value: str) -> None:
    """Empty, forged, eight kilobytes: signed out, never an error."""
    cookies = f"fitcounter={value}; fitcounter-phone={value}"

    assert (
        app.test_client(use_cookies=False).get("/", headers={"Cookie": cookies}).status_code == 303
    )
