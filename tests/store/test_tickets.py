"""Numbers that are spoken: short, given again only when nothing open or printed has them."""

from __future__ import annotations

import pytest

from fitcounter.errors import Conflict, NotFound
from fitcounter.store import customers, tags, tickets
from fitcounter.store.database import Act, Store


def open_one(store: Store, act: Act, name: str = "Marisol") -> int:
    with store.write_tx():
        return tickets.add(store, act, customers.add(store, act, name), currency="USD")


def number_of(store: Store, ticket_id: int) -> int:
    return tickets.get(store, ticket_id).number


def set_number(store: Store, ticket_id: int, number: int, state: str = "open") -> None:
    with store.write_tx():
        store.change("tickets", ticket_id, number=number, state=state)


def test_numbers_go_up_and_a_closed_one_is_not_given_again_at_once(store: Store, act: Act):
    first = open_one(store, act)
    set_number(store, first, 1, "closed")
    assert number_of(store, open_one(store, act)) == 2


def test_after_999_comes_the_lowest_that_is_free(store: Store, act: Act):
    open_one(store, act)
    set_number(store, open_one(store, act), 999)
    assert number_of(store, open_one(store, act)) == 2


def test_a_number_on_a_free_tag_is_left_for_that_tag(store: Store, act: Act):
    open_one(store, act)
    with store.write_tx():
        tags.make(store, act, 2, "left")
        tags.make(store, act, 2, "right")
    assert number_of(store, open_one(store, act)) == 3


def test_with_all_three_digit_numbers_open_the_next_has_four(store: Store, act: Act):
    customer = tickets.get(store, open_one(store, act)).customer_id
    with store.write_tx():
        for number in range(2, 1000):
            store.insert(
                "tickets",
                number=number,
                customer_id=customer,
                opened_at="2026-03-17T14:00:00Z",
                currency="USD",
            )
    assert number_of(store, open_one(store, act)) == 1000


def test_two_open_tickets_never_share_a_number(store: Store, act: Act):
    open_one(store, act)
    second = open_one(store, act)
    with pytest.raises(Conflict):
        set_number(store, second, 1)


@pytest.mark.parametrize("ticket_id", [0, -1, 99, 2**63, 10**30])
def test_a_ticket_that_is_not_there_is_not_found(store: Store, ticket_id: int):
    with pytest.raises(NotFound):
        tickets.get(store, ticket_id)
