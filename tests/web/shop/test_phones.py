"""The shop's own phones: taken in by a code, opened by PIN, whose hands it was at Save, struck off
when lost.
"""

from __future__ import annotations

import re
from collections.abc import Callable

import pytest
from flask import Flask
from support.bench_cast import Pair, pair, tree
from support.cast import Clock, Counter
from support.shop_phone import IDS, PINS, give_pins, opened, taken_in

from fitcounter.desk.shop import Act, Store
from fitcounter.desk.staff import phones as staff_phones
from fitcounter.store import items, rounds, sessions


@pytest.fixture
def pins(store: Store) -> None:
    give_pins(store)


@pytest.fixture
def phone(app: Flask, owner: Counter, pins: None) -> Counter:
    return opened(taken_in(app, owner))


@pytest.fixture
def boots(store: Store, clock: Clock) -> Pair:
    tree(store, "4")
    return pair(store, Act(clock.now))


_count = iter(range(10**6))


def step(phone: Counter, item_id: int, name: str = "prepare", **typed: object):
    return phone.post(
        f"/items/{item_id}/{name}",
        submission_id=f"hands-{next(_count):06}",
        **{"prepared": "conditioned", **typed},
    )


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


def test_whoever_taps_their_initials_did_it(
    phone: Counter, store: Store, boots: Pair, clock: Clock
) -> None:
    """Initials sent with a form name the person in steps and audit; the same hands need no tap for
    five minutes.
    """
    assert step(phone, boots.left, who=IDS["CO"]).status_code == 303
    clock.on(minutes=4)
    assert step(phone, boots.right).status_code == 303
    steps = [items.steps(store, item)[-1] for item in (boots.left, boots.right)]
    assert [one.staff_id for one in steps] == [1, 1]
    assert (
        store.value(
            "SELECT phone_id FROM audit WHERE what LIKE '%prepare%' ORDER BY id DESC LIMIT 1"
        )
        == 1
    )


def test_after_five_minutes_one_tap_is_asked_for_and_nothing_is_lost(
    phone: Counter, store: Store, boots: Pair, clock: Clock
) -> None:
    """Save without initials asks who it is, with the form on board; one tap saves it."""
    clock.on(minutes=5)
    answer = step(phone, boots.left, prepared_with="lanolin")
    assert answer.status_code == 422
    assert "Tap your initials to save." in answer.text
    assert "lanolin" in answer.text
    assert items.steps(store, boots.left) == []

    carried = dict(re.findall(r'type="hidden" name="([^"]+)" value="([^"]*)"', answer.text))
    offered = re.findall(r'name="who" value="(\d+)"', answer.text)
    assert offered == [IDS["BE"], IDS["CO"], IDS["OW"]]
    assert (
        phone.client.post(
            f"/items/{boots.left}/prepare", data={**carried, "who": IDS["BE"]}
        ).status_code
        == 303
    )
    assert [(one.step, one.staff_id) for one in items.steps(store, boots.left)] == [("prepare", 2)]


def test_a_form_on_a_phone_of_the_shop_shows_initials_above_save(
    phone: Counter, counter: Counter, boots: Pair, clock: Clock
) -> None:
    """The last hands are ticked for five minutes; elsewhere nothing is asked."""
    page = phone.get(f"/items/{boots.left}").text
    assert re.search(r'name="who" value="2" checked', page)
    clock.on(minutes=6)
    page = phone.get(f"/items/{boots.left}").text
    assert 'name="who" value="2"' in page
    assert 'name="who" value="2" checked' not in page
    assert 'name="who"' not in counter.get(f"/items/{boots.left}").text


def test_a_repeat_by_other_hands_gives_the_first_result(
    phone: Counter, store: Store, boots: Pair
) -> None:
    """The initials are no part of what was said: the same submission id is the same step."""
    typed = {"submission_id": "hands-repeat-1", "prepared": "dry"}
    assert phone.post(f"/items/{boots.left}/prepare", who=IDS["CO"], **typed).status_code == 303
    assert phone.post(f"/items/{boots.left}/prepare", who=IDS["BE"], **typed).status_code == 303
    assert [one.staff_id for one in items.steps(store, boots.left)] == [1]


@pytest.mark.parametrize("who", ["99", "0", "-1", "x", "1e3", "٣", "9" * 40])
def test_initials_of_nobody_are_asked_again(
    phone: Counter, store: Store, boots: Pair, clock: Clock, who: str
) -> None:
    """Whatever stands in the field, nothing is written in nobody's name."""
    clock.on(minutes=6)
    assert step(phone, boots.left, who=who).status_code == 422
    assert items.steps(store, boots.left) == []


def test_the_bench_looks_at_the_counters_pages_but_saves_in_their_name_only(
    phone: Counter, store: Store
) -> None:
    """Everybody may look on a phone of the shop; what the counter saves is asked of the counter."""
    assert phone.get("/new").status_code == 200
    answer = phone.post("/new", who=IDS["BE"], submission_id="hands-new-0001", name="Ada")
    assert answer.status_code == 422
    assert re.findall(r'name="who" value="(\d+)"', answer.text) == [IDS["CO"], IDS["OW"]]


def test_the_owners_pages_take_initials_and_pin(phone: Counter, clock: Clock) -> None:
    """A page of the owner's asks for both, then opens for five minutes."""
    page = phone.get("/shop")
    assert page.status_code == 422
    assert "Your PIN" in page.text
    assert phone.post("/prove", next="/shop", who=IDS["BE"], pin=PINS["BE"]).status_code == 303
    assert phone.get("/shop").status_code == 422  # proved, but not the owner
    assert phone.post("/prove", next="/shop", who=IDS["OW"], pin=PINS["BE"]).status_code == 422
    answer = phone.post("/prove", next="/shop", who=IDS["OW"], pin=PINS["OW"])
    assert (answer.status_code, answer.location) == (303, "/shop")
    assert phone.get("/shop").status_code == 200
    clock.on(minutes=5)
    assert phone.get("/shop").status_code == 422


def test_other_hands_do_not_inherit_a_proof(phone: Counter, boots: Pair) -> None:
    """The PIN of one person proves nothing for the next."""
    assert phone.post("/prove", next="/shop", who=IDS["OW"], pin=PINS["OW"]).status_code == 303
    assert step(phone, boots.left, who=IDS["BE"]).status_code == 303
    assert (
        step(
            phone, boots.left, "put-on", tree="4", before="14 3/8", on_tree="14 3/4", who=IDS["OW"]
        ).status_code
        == 303
    )
    assert phone.get("/shop").status_code == 422


def test_a_limit_is_passed_only_with_a_pin(
    phone: Counter, store: Store, boots: Pair, clock: Clock
) -> None:
    """A reason for going on takes the PIN of whoever gives it; a wrong one writes nothing and keeps
    the form.
    """
    assert step(phone, boots.left, who=IDS["BE"]).status_code == 303
    clock.on(minutes=6)
    typed = {
        "tree": "4",
        "before": "14 3/8",
        "on_tree": "15 3/4",
        "override_why": "master-looked",
        "who": IDS["BE"],
    }
    asked = step(phone, boots.left, "put-on", **typed)
    assert (asked.status_code, "Your PIN" in asked.text, "15 3/4" in asked.text) == (
        422,
        True,
        True,
    )
    wrong = step(phone, boots.left, "put-on", **typed, pin="999000")
    assert (
        wrong.status_code,
        "Wrong PIN for these initials" in wrong.text,
        "999000" in wrong.text,
    ) == (
        422,
        True,
        False,
    )
    assert rounds.of_item(store, boots.left)[0].on_at is None
    assert step(phone, boots.left, "put-on", **typed, pin=PINS["BE"]).status_code == 303
    assert rounds.of_item(store, boots.left)[0].override_why == "master-looked"


def guess(phone: Counter, initials: str = "CO", pin: str = "999000"):
    return phone.post("/open", who=IDS[initials], pin=pin)


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


def test_somebody_who_left_is_nobody_at_a_phone(
    phone: Counter, owner: Counter, store: Store, boots: Pair
) -> None:
    """The phone stays open for the others; who left cannot be tapped."""
    assert step(phone, boots.left, who=IDS["CO"]).status_code == 303
    owner.get("/shop/people/1")
    assert owner.post("/shop/people/1/leave", submission_id="leaves-00000001").status_code == 303
    answer = step(phone, boots.right)
    assert (answer.status_code, re.findall(r'name="who" value="(\d+)"', answer.text)) == (
        422,
        [IDS["BE"], IDS["OW"]],
    )
    assert step(phone, boots.right, who=IDS["CO"]).status_code == 422
    assert step(phone, boots.right, who=IDS["BE"]).status_code == 303


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
