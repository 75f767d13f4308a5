"""A tag means the same whichever way it comes in: typed into Today's field, opened by its address,
scanned at the bench's stand, into many off, at pickup, or as the other of two swapped tags.

Two jobs of two customers; tags were swapped between them, lost, and replaced.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

import pytest
from support.cast import Clock, Counter
from support.ticket_rows import Job, make_job
from werkzeug.test import TestResponse

from fitcounter.desk.tags.attach import tag_items
from fitcounter.desk.tickets import tag_replaced_or_swapped
from fitcounter.store import items, tags, tickets
from fitcounter.store.database import Act, Store

MARISOL, TOBIAS = "Marisol Okafor-Lind", "Tobias Renwick"


@dataclass(frozen=True)
class Shop:
    """Two jobs, and the codes that died: swapped between them, lost, lost twice over."""

    marisols: Job
    tobiases: Job
    retired: dict[str, str]


def code_of(store: Store, item_id: int) -> str:
    tag = tags.of_item(store, item_id)
    assert tag is not None
    return tag.code


@pytest.fixture
def swapped(store: Store, clock: Clock) -> Shop:
    act = Act(clock.now, 1)
    marisols, tobiases = make_job(store, act, MARISOL), make_job(store, act, TOBIAS)
    for job in (marisols, tobiases):
        with store.write_tx():
            ticket = tickets.get(store, job.ticket_id)
            tag_items(store, act, ticket, items.of_ticket(store, ticket.id), {})
    retired = {
        "swapped, first": code_of(store, marisols.left),
        "swapped, second": code_of(store, tobiases.left),
        "lost": code_of(store, marisols.right),
        "lost twice": code_of(store, tobiases.right),
    }
    tag_replaced_or_swapped.swap(store, act, marisols.left, tobiases.left)
    tag_replaced_or_swapped.new_tag(store, act, marisols.right)
    tag_replaced_or_swapped.new_tag(store, act, tobiases.right)
    tag_replaced_or_swapped.new_tag(store, act, tobiases.right)
    with store.write_tx():
        free = tags.get(store, tags.make(store, act, 77, "left")).code
    tag_replaced_or_swapped.retire(store, act, free)
    return Shop(marisols, tobiases, {**retired, "struck off": free})


def find(counter: Counter, code: str, job: Job) -> TestResponse:
    return counter.client.get(f"/find?q={code}", follow_redirects=True)


def address(counter: Counter, code: str, job: Job) -> TestResponse:
    return counter.client.get(f"/T/{code}")


def small_address(counter: Counter, code: str, job: Job) -> TestResponse:
    return counter.client.get(f"/t/{code[:4]}-{code[4:]}".lower())


def stand(counter: Counter, code: str, job: Job) -> TestResponse:
    return counter.client.get(f"/bench/stand?scan=HTTPS://BENCH.EXAMPLE/T/{code}")


def many_off(counter: Counter, code: str, job: Job) -> TestResponse:
    counter.get("/bench/off")
    return counter.post("/bench/off", scan=code)


def pickup(counter: Counter, code: str, job: Job) -> TestResponse:
    counter.get(f"/pickup/{job.ticket_id}")
    return counter.post(f"/pickup/{job.ticket_id}", scan=code, collected_by="Marisol")


def other_of_two(counter: Counter, code: str, job: Job) -> TestResponse:
    counter.get(f"/items/{job.bag}/tag")
    answer = counter.post(f"/items/{job.bag}/tag", code=code)
    return counter.client.get(answer.location) if answer.status_code == 303 else answer


WAYS: dict[str, Callable[[Counter, str, Job], TestResponse]] = {
    "Today's field": find,
    "its address": address,
    "its address in small letters": small_address,
    "the stand": stand,
    "many off": many_off,
    "pickup": pickup,
    "the other of two": other_of_two,
}
RETIRED = ("swapped, first", "swapped, second", "lost", "lost twice", "struck off")


@pytest.mark.parametrize("way", WAYS)
@pytest.mark.parametrize("which", RETIRED)
def test_a_retired_tag_is_said_to_be_retired_and_opens_nobodys_thing(
    counter: Counter, store: Store, swapped: Shop, way: str, which: str
) -> None:
    """Nothing of either job is opened, ticked or moved; of the other customer there is no word."""
    before = store.rows("SELECT id, state, version FROM items ORDER BY id")
    answer = WAYS[way](counter, swapped.retired[which], swapped.marisols)

    assert "retired" in answer.text
    assert TOBIAS not in answer.text
    if way not in ("pickup", "the other of two"):  # those stand on a page of Marisol's own
        assert MARISOL not in answer.text
    assert "checked" not in answer.text
    assert store.rows("SELECT id, state, version FROM items ORDER BY id") == before


@pytest.mark.parametrize("way", WAYS)
@pytest.mark.parametrize("side", ["left", "right"])
def test_the_tag_in_its_place_leads_every_way_to_its_own_thing(
    counter: Counter, store: Store, swapped: Shop, way: str, side: str
) -> None:
    item_id = swapped.marisols.left if side == "left" else swapped.marisols.right
    answer = WAYS[way](counter, code_of(store, item_id), swapped.marisols)

    assert TOBIAS not in answer.text
    assert "retired" not in answer.text
    if way == "pickup":
        assert answer.text.count("checked") == 1
    elif way == "many off":
        assert f"{side.capitalize()} 1 is not on a tree" in answer.text
    else:
        assert MARISOL in answer.text
    if way not in ("pickup", "many off", "Today's field"):
        assert f"{side.capitalize()}" in answer.text or f"{side} boot" in answer.text


def test_a_retired_tag_leads_on_to_what_it_really_hung_on(
    counter: Counter, store: Store, swapped: Shop
) -> None:
    """Marisol's tag hung on Tobias's boot: its page names the tag that is on that boot now."""
    answer = find(counter, swapped.retired["swapped, first"], swapped.marisols)
    code = code_of(store, swapped.tobiases.left)

    assert answer.status_code == 410
    assert f"{code[:4]}-{code[4:8]}-{code[8:]}" in answer.text
    assert f"/items/{swapped.tobiases.left}" in answer.text
    assert f"/items/{swapped.marisols.left}" not in answer.text
