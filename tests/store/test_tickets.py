"""Numbers that are spoken, customers that are found, tags that are never used twice."""

from __future__ import annotations

import pytest
from support.cast import Clock

from fitcounter.errors import Conflict, NotFound
from fitcounter.fit.tagcode import read_code
from fitcounter.store import customers, drafts, tags, tickets
from fitcounter.store.database import Act, Store


@pytest.fixture
def act(clock: Clock) -> Act:
    return Act(clock.now, 1)


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


@pytest.mark.parametrize(
    ("piece", "found"),
    [
        ("ok", ["Marisol Okafor-Lind"]),
        ("OKAFOR", ["Marisol Okafor-Lind"]),
        ("mar", ["Marisol Okafor-Lind", "Martín Nguyễn"]),
        ("nguyen", ["Martín Nguyễn"]),
        ("Martin", ["Martín Nguyễn"]),
        ("kafor", []),
        ("m", []),
        ("%%", []),
        ("__", []),
        ("李 ", []),
    ],
)
def test_a_customer_is_found_by_the_beginning_of_any_word_of_the_name(
    store: Store, act: Act, piece: str, found: list[str]
):
    for name in ("Marisol Okafor-Lind", "Martín Nguyễn"):
        open_one(store, act, name)
    assert [one.name for one in customers.by_name(store, piece)] == found


def test_a_customer_is_found_by_the_whole_number_and_without_a_country_by_its_last_four(
    store: Store, act: Act
):
    with store.write_tx():
        customers.add(store, act, "Marisol", ("(412) 555-0142", "+14125550142", "0142"))
        customers.add(store, act, "Tobias", ("0142", "", "0142"))
        customers.add(store, act, "Nobody")
    assert [one.name for one in customers.by_phone(store, "+14125550142", "0142")] == ["Marisol"]
    assert [one.name for one in customers.by_phone(store, "", "0142")] == ["Tobias", "Marisol"]
    assert customers.by_phone(store, "", "") == []


def test_a_replaced_tag_is_dead_and_says_what_took_its_place(store: Store, act: Act):
    with store.write_tx():
        old = tags.make(store, act, 41, "left")
        new = tags.replace(store, act, old)
    dead, living = tags.get(store, old), tags.get(store, new)
    assert dead.died_at is not None
    assert dead.replaced_by == living.id
    assert (living.number, living.side, living.died_at) == (41, "left", None)
    assert dead.code != living.code
    assert read_code(living.code) == living.code
    assert [tag.id for tag in tags.by_number(store, 41)] == [living.id]
    assert tags.by_number(store, 41, "right") == []


def test_a_code_of_another_shop_is_not_found(store: Store):
    with pytest.raises(NotFound):
        tags.by_code(store, "7K3M9QXWE")


def test_a_draft_kept_again_takes_its_own_place(store: Store, act: Act):
    with store.write_tx():
        drafts.put(store, act, "a" * 22, "new-job", [("name", "Mari")], "Mari")
        drafts.put(store, act, "a" * 22, "new-job", [("name", "Marisol")], "Marisol")
    (only,) = drafts.of_kind(store, "new-job")
    assert only.typed == [("name", "Marisol")]
