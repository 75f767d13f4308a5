"""Whose hands hold a phone of the shop: asked once, carried along, proved where that is needed."""

from __future__ import annotations

import pytest
from flask import Flask
from support.bench_cast import Pair
from support.cast import Clock, Counter
from support.shop_phone import IDS, PINS, give_pins, opened, taken_in

from fitcounter.store.database import Store


@pytest.fixture
def phone(app: Flask, owner: Counter, store: Store) -> Counter:
    """A phone of the shop, opened by the bench."""
    give_pins(store)
    return opened(taken_in(app, owner))


def prepare(phone: Counter, boots: Pair, **typed: object):  # type: ignore[no-untyped-def]
    phone.get("/me")
    form: dict[str, object] = {"submission_id": "acting-000001", "prepared": "conditioned"}
    return phone.send(f"/items/{boots.left}/prepare", {**form, **typed})


def test_after_five_minutes_the_question_carries_the_form_along(
    phone: Counter, boots: Pair, clock: Clock
) -> None:
    clock.on(minutes=5)
    asked = prepare(phone, boots)
    assert asked.status_code == 422
    assert "Tap your initials to save." in asked.text
    assert 'name="submission_id" value="acting-000001"' in asked.text
    assert 'name="prepared" value="conditioned"' in asked.text
    assert prepare(phone, boots, who=IDS["BE"]).status_code == 303


@pytest.mark.parametrize("who", ["99", "٣", "-1", "9" * 12, "x"])
def test_initials_of_nobody_save_nothing(
    phone: Counter, boots: Pair, clock: Clock, who: str
) -> None:
    clock.on(minutes=5)
    assert prepare(phone, boots, who=who).status_code == 422


def test_a_form_from_another_site_is_not_carried_along(
    phone: Counter, boots: Pair, clock: Clock
) -> None:
    clock.on(minutes=5)
    phone.get("/me")
    typed: dict[str, object] = {"submission_id": "acting-000001", "prepared": "conditioned"}
    path, headers = f"/items/{boots.left}/prepare", {"Sec-Fetch-Site": "cross-site"}
    asked = phone.send(path, typed, headers=headers)
    assert "acting-000001" not in asked.text


def test_the_owners_pages_want_the_owners_pin_and_say_when_it_is_wrong(phone: Counter) -> None:
    asked = phone.get("/shop")
    assert asked.status_code == 422
    assert "Only the owner can open this page" in asked.text
    wrong = phone.post("/prove", who=IDS["OW"], pin=PINS["BE"], next="/shop")
    assert wrong.status_code == 422
    assert "Wrong PIN" in wrong.text
    assert PINS["BE"] not in wrong.text
    assert phone.post("/prove", who=IDS["OW"], pin=PINS["OW"], next="/shop").status_code == 303
    assert phone.get("/shop").status_code == 200


def test_only_on_a_phone_of_the_shop_are_initials_shown_above_save(
    phone: Counter, bench: Counter, boots: Pair
) -> None:
    path = f"/items/{boots.left}"
    assert 'name="who"' in phone.get(path).text
    assert 'name="who"' not in bench.get(path).text
