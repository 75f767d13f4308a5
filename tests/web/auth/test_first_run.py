"""The first run: set up once, by whoever read the word that the program printed, within an hour."""

from __future__ import annotations

import re
from collections.abc import Iterator
from pathlib import Path

import pytest
from flask import Flask
from support.cast import PASSPHRASE, Clock, Counter

from fitcounter.desk import shop
from fitcounter.desk.shop import Store, open_store
from fitcounter.desk.staff import first_run as staff_first_run
from fitcounter.settings import Settings
from fitcounter.store import staff, trees
from fitcounter.web import create_app


@pytest.fixture
def empty(tmp_path: Path) -> Iterator[Store]:
    opened = open_store(tmp_path / "shop.db")
    yield opened
    opened.close()


@pytest.fixture
def fresh(empty: Store, tmp_path: Path, clock: Clock) -> Counter:
    """Somebody at a shop without people."""
    app: Flask = create_app(Settings(data_dir=tmp_path, testing=True), clock)
    return Counter(app.test_client())


def first(word: str, **changes: object) -> dict[str, object]:
    return {
        "submission_id": "first-run-000001",
        "setup_token": word,
        "shop_name": "Tanyard Stretch",
        "zone": "Europe/Lisbon",
        "opens_at": "10:00",
        "closes_at": "19:00",
        "price": "85",
        "trees_s": "0",
        "trees_m": "2",
        "trees_l": "1",
        "limits": "careful",
        "name": "Rosa",
        "initials": "ro",
        "passphrase": PASSPHRASE,
        "pin": "740193",
        **changes,
    }


def test_the_printed_word_sets_the_shop_up_once(fresh: Counter, empty: Store, clock: Clock) -> None:
    """Choices, trees and owner are there, the owner is signed in, and the word is worth nothing any
    more.
    """
    word = staff_first_run.new_setup_token(empty, clock.now)
    assert fresh.get(f"/first-run?setup_token={word}").status_code == 200
    answer = fresh.post("/first-run", **first(word))
    assert (answer.status_code, answer.location) == (303, "/shop")
    assert fresh.get("/shop").status_code == 200

    held = shop.read(empty)
    assert (held.name, held.zone, held.opens_at, held.stretch_minor, held.limits) == (
        "Tanyard Stretch",
        "Europe/Lisbon",
        "10:00",
        8500,
        "careful",
    )
    assert [(one.initials, one.role) for one in staff.everybody(empty)] == [("RO", "owner")]
    assert [(one.label, one.size, one.side) for one in trees.everyone(empty)] == [
        ("1", "M", "left"),
        ("2", "M", "right"),
        ("3", "M", "left"),
        ("4", "M", "right"),
        ("5", "L", "left"),
        ("6", "L", "right"),
    ]
    assert fresh.get(f"/first-run?setup_token={word}").status_code == 409
    assert (
        fresh.post(
            "/first-run", **first(word, submission_id="first-run-000002", initials="XX")
        ).status_code
        == 409
    )
    assert staff_first_run.new_setup_token(empty, clock.now) == ""


def test_without_the_word_nobody_sets_it_up(fresh: Counter, empty: Store, clock: Clock) -> None:
    """No word, a wrong one, an old one: 403, and still nobody is there."""
    assert fresh.get("/first-run").status_code == 403
    word = staff_first_run.new_setup_token(empty, clock.now)
    assert fresh.get("/first-run?setup_token=abc").status_code == 403
    fresh.get(f"/first-run?setup_token={word}")
    assert fresh.post("/first-run", **first("")).status_code == 403
    clock.on(hours=1)
    assert fresh.post("/first-run", **first(word)).status_code == 403
    assert staff_first_run.is_new(empty)


@pytest.mark.parametrize(
    ("changes", "sentence"),
    [
        ({"passphrase": "too short"}, "at least 15 characters"),
        ({"passphrase": "Tanyard Stretch Rosa"}, "Too easy to guess"),
        ({"zone": "Mars/Olympus"}, "Pick a city from the list"),
        ({"zone": "../../etc"}, "Pick a city from the list"),
        ({"opens_at": "9"}, "like 09:00"),
        ({"closes_at": "08:00"}, "after opening time"),
        ({"price": "a lot"}, "Type an amount"),
        ({"trees_m": "99"}, "pairs"),
        ({"trees_l": "-1"}, "pairs"),
        ({"limits": "bold"}, "careful or usual"),
        ({"initials": "R!"}, "letters or digits"),
        ({"pin": "123456"}, "Too easy to guess"),
        ({"shop_name": " "}, "name of the shop"),
        ({"name": ""}, "Type your name"),
    ],
)
def test_what_cannot_be_taken_comes_back_with_everything_typed(
    fresh: Counter, empty: Store, clock: Clock, changes: dict[str, str], sentence: str
) -> None:
    """422, one sentence, the rest still there but the secrets, nobody set up."""
    word = staff_first_run.new_setup_token(empty, clock.now)
    fresh.get(f"/first-run?setup_token={word}")
    answer = fresh.post("/first-run", **first(word, **changes))
    assert answer.status_code == 422
    assert sentence in answer.text, re.findall(r'class="error"[^>]*>(.*?)<', answer.text)
    for name, value in first(word, **changes).items():
        if name in ("passphrase", "pin"):
            assert str(value) not in answer.text
        elif str(value).strip() and (
            name not in ("limits", "zone") or name not in changes
        ):  # a choice that is none of ours is not shown again
            assert str(value) in answer.text
    assert "Type the passphrase and the PIN again." in " ".join(answer.text.split())
    assert staff_first_run.is_new(empty)


def test_until_then_the_door_says_what_to_do(fresh: Counter) -> None:
    """A stranger is sent to the door, and the door says that the shop is not set up."""
    assert fresh.get("/").location == "/sign-in?next=/"
    assert "not set up yet" in fresh.get("/sign-in").text


def test_usual_is_picked_already_and_careful_says_what_it_refuses(
    fresh: Counter, empty: Store, clock: Clock
) -> None:
    page = fresh.get(f"/first-run?setup_token={staff_first_run.new_setup_token(empty, clock.now)}")
    (picked,) = re.findall(r"<input checked[^>]*name=\"limits\"[^>]*>", page.text)
    assert 'value="usual"' in picked
    assert (
        "On a 14½ in boot it says “add a panel” from 1 3/16 in short in soft leather and from"
        in (page.text)
    )
    assert "week-long practice differ two- to threefold" in page.text


@pytest.mark.parametrize(
    ("country", "more", "stands"),
    [
        ("ES", {}, ("es_ES", "EUR", "cm", "", "", 8500)),
        ("US", {}, ("en_US", "USD", "in", "", "", 8500)),
        ("ES", {"language": "en", "unit": "in"}, ("en_ES", "EUR", "in", "", "", 8500)),
        (
            "GB",
            {"currency": "JPY", "hours": "12", "paper": "letter"},
            ("en_GB", "JPY", "cm", "12", "letter", 85),
        ),
    ],
)
def test_the_country_brings_language_currency_and_tape_and_each_can_be_another(
    fresh: Counter,
    empty: Store,
    clock: Clock,
    country: str,
    more: dict[str, str],
    stands: tuple[object, ...],
) -> None:
    word = staff_first_run.new_setup_token(empty, clock.now)
    fresh.get(f"/first-run?setup_token={word}")
    answer = fresh.post("/first-run", **first(word, country=country, **more))
    assert answer.status_code == 303, answer.text

    held = shop.read(empty)
    assert (
        held.locale,
        held.currency,
        held.unit,
        held.hours,
        held.paper,
        held.stretch_minor,
    ) == stands
    assert held.country == country


@pytest.mark.parametrize(
    ("languages", "country", "zone", "title"),
    [
        ("es-ES,es;q=0.9", "ES", "Europe/Madrid", "Dar de alta el taller"),
        ("en-GB,en;q=0.9", "GB", "Europe/London", "Set up the shop"),
        ("tlh", "US", "America/New_York", "Set up the shop"),
    ],
)
def test_the_browser_says_which_country_and_language_come_first(
    fresh: Counter, empty: Store, clock: Clock, languages: str, country: str, zone: str, title: str
) -> None:
    word = staff_first_run.new_setup_token(empty, clock.now)
    page = fresh.get(f"/first-run?setup_token={word}", headers={"Accept-Language": languages}).text
    assert f"<h1>{title}</h1>" in page
    assert f'<option selected value="{country}">' in page
    assert f'<option selected value="{zone}">' in page


def test_a_country_that_is_none_is_asked_for_again(
    fresh: Counter, empty: Store, clock: Clock
) -> None:
    word = staff_first_run.new_setup_token(empty, clock.now)
    fresh.get(f"/first-run?setup_token={word}")
    answer = fresh.post("/first-run", **first(word, country="QQ"))
    assert answer.status_code == 422
    assert "Unknown country. Pick one from the list." in answer.text
    assert staff_first_run.is_new(empty)
