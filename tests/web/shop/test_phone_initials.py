"""Whose hands it was at Save, on a phone of the shop: initials by one tap, and the PIN beside them
where that is asked.
"""

from __future__ import annotations

import re

import pytest
from support.bench_cast import Pair, pair, tree
from support.cast import Clock, Counter
from support.shop_phone import IDS, PINS

from fitcounter.desk.shop import Act, Store
from fitcounter.store import items, rounds


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
