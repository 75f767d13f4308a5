"""One field finds a job by tag, number, phone or name, and forgives a slip of one letter."""

from __future__ import annotations

from datetime import date

import pytest

from fitcounter.desk import shop
from fitcounter.desk.common.translation import speaking
from fitcounter.desk.front_desk import search as front_desk_search
from fitcounter.store import customers, tags, tickets
from fitcounter.store.database import Act, Store

TODAY = date(2026, 3, 17)


def found(store: Store, typed: str) -> list[int]:
    """The ids of the tickets that are found."""
    rows = front_desk_search.find(store, shop.read(store), typed, TODAY)
    return [row.ticket.id for row in rows]


def test_a_ticket_is_found_by_its_number_its_phone_and_its_name(store: Store, job):
    ticket = tickets.get(store, job.ticket_id)
    customer = customers.get(store, ticket.customer_id)
    name = customer.name.split()[-1]
    for typed in (str(ticket.number), customer.phone_last4, name, name[:2], f"  {name}  "):
        assert found(store, typed) == [job.ticket_id], typed


@pytest.mark.parametrize("state", ["open", "out"])
def test_a_name_is_found_in_any_order_of_its_words_also_when_all_is_picked_up(
    store: Store, job, state: str
):
    with store.write_tx():
        store.change("tickets", job.ticket_id, state=state)
    for typed in ("Okafor Marisol", "lind mar", "marisol okafor-lind", "LIND  OKAFOR"):
        assert found(store, typed) == [job.ticket_id], typed
    assert found(store, "Okafor Maud") == []


def test_a_number_may_have_its_sign_and_a_thing_is_found_by_what_it_is(store: Store, job):
    number = tickets.get(store, job.ticket_id).number
    for typed in (f"#{number}", f"# {number}", "bag", "bags", "tan b", "new zip", "boots"):
        assert found(store, typed) == [job.ticket_id], typed
    assert found(store, "belt") == []
    assert found(store, "ta") == [], "two letters are a name's"


@pytest.mark.parametrize("typed", ["Left 1", "right 1", "bag 1", "1 left", "LEFT #1"])
def test_what_is_called_across_the_bench_is_found(store: Store, job, typed: str):
    assert found(store, typed) == [job.ticket_id]
    with speaking("es"):
        assert found(store, "izquierda 1") == [job.ticket_id]


def test_a_slip_in_the_name_of_who_has_nothing_here_is_forgiven_too(store: Store, job):
    with store.write_tx():
        store.change("tickets", job.ticket_id, state="closed")
    assert found(store, "okafro") == [job.ticket_id]
    assert found(store, "okrfao") == []


def test_a_tag_is_found_by_its_code_and_its_address(store: Store, job, act: Act):
    with store.write_tx():
        tag = tags.get(store, tags.make(store, act, 1, "left", job.left))
    assert found(store, tag.code) == [job.ticket_id]
    assert found(store, f"https://bench.example/t/{tag.code}") == [job.ticket_id]


@pytest.mark.parametrize("typed", ["m", "9999", "Zebedee", "%", ""])
def test_what_is_not_there_finds_nothing(store: Store, job, typed: str):
    assert found(store, typed) == []


def test_slips_of_one_letter_are_near_and_two_are_not():
    near = front_desk_search._near
    assert all(
        near("okafor", other)
        for other in ("okafor", "okafr", "okaffor", "okefor", "okfaor", "kafor")
    )
    assert not any(near("okafor", other) for other in ("okfar", "oakfro", "okaforxx", "ikafir"))
