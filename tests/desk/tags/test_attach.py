"""A tag on every item: tags that hang ready, and which of them are refused."""

from __future__ import annotations

from pathlib import Path

import pytest
from support.measured_pair import measured_pair
from support.offered_pair import offered, pair_and_bag, with_limits, yes

from fitcounter.desk import shop
from fitcounter.desk.quote import agree
from fitcounter.errors import BadInput, NotFound
from fitcounter.store import items, tags, tickets
from fitcounter.store.database import Act, Store


@pytest.fixture
def here(store: Store, act: Act) -> shop.Shop:
    return with_limits(store, act)


@pytest.fixture
def ticket_id(store: Store, act: Act, here: shop.Shop) -> int:
    return pair_and_bag(store, act)


def free_pair(store: Store, act: Act, number: int) -> tuple[str, str]:
    with store.write_tx():
        left, right = (tags.make(store, act, number, side) for side in ("left", "right"))
    return tags.get(store, left).code, tags.get(store, right).code


def test_tags_that_hang_ready_give_the_ticket_their_number(
    store: Store, act: Act, here: shop.Shop, ticket_id: int, tmp_path: Path
):
    left, right = free_pair(store, act, 77)
    boots = items.of_ticket(store, ticket_id)
    codes = {
        boots[0].id: f"HTTPS://BENCH.EXAMPLE/T/{left}",
        boots[1].id: f"{right[:4]}-{right[4:8]}-{right[8]}",
    }
    agree.agree(
        store, act, here, ticket_id, yes(offered(store, here, ticket_id), tags=codes), tmp_path
    )
    assert tickets.get(store, ticket_id).number == 77
    assert [tags.of_item(store, one.id).number for one in boots] == [77, 77, 77]
    assert tags.by_code(store, left).item_id == boots[0].id


@pytest.mark.parametrize("typed", ["number", "crossed", "half"])
def test_a_pair_of_tags_may_come_by_its_number_or_in_the_other_order(
    store: Store, act: Act, here: shop.Shop, ticket_id: int, tmp_path: Path, typed: str
):
    left, right = free_pair(store, act, 77)
    a, b, _ = items.of_ticket(store, ticket_id)
    codes = {
        "number": {a.id: "77", b.id: "77 R"},
        "crossed": {a.id: right, b.id: left},
        "half": {b.id: "77"},
    }[typed]
    agree.agree(
        store, act, here, ticket_id, yes(offered(store, here, ticket_id), tags=codes), tmp_path
    )
    assert tickets.get(store, ticket_id).number == 77
    assert tags.by_code(store, right).item_id == b.id
    assert tags.by_code(store, left).item_id == (None if typed == "half" else a.id)


def test_a_wrong_tag_is_said_at_its_own_field_and_nothing_is_kept(
    store: Store, act: Act, here: shop.Shop, ticket_id: int, tmp_path: Path
):
    left, right = free_pair(store, act, 77)
    other, _ = free_pair(store, act, 78)
    boots = items.of_ticket(store, ticket_id)
    a, b = boots[0].id, boots[1].id
    for codes, field, says in (
        ({a: right}, f"tag_{a}", "right boot"),
        ({a: "7K3M-9QXW-F"}, f"tag_{a}", "not as on the tag"),
        ({a: "7K3M9QXWE"}, f"tag_{a}", "No tag"),
        ({a: left, b: left}, f"tag_{b}", "left boot"),
        ({a: left, b: other}, f"tag_{a}", "different numbers"),
        ({boots[2].id: left, a: left}, f"tag_{boots[2].id}", "same tag twice"),
        ({a: "79"}, f"tag_{a}", "No pre-printed tag 79 for a left boot"),
        ({boots[2].id: "77"}, f"tag_{boots[2].id}", "no pre-printed tag 77"),
    ):
        with pytest.raises((BadInput, NotFound), match=says) as refused:
            agree.agree(
                store,
                act,
                here,
                ticket_id,
                yes(offered(store, here, ticket_id), tags=codes),
                tmp_path,
            )
        assert refused.value.field == field
        assert tags.by_code(store, left).item_id is None
    assert tickets.consents(store, ticket_id) == []


def test_a_number_that_is_open_elsewhere_is_not_given_twice(
    store: Store, act: Act, here: shop.Shop, ticket_id: int, tmp_path: Path
):
    left, _ = free_pair(store, act, 77)
    other, _ = measured_pair(store, act)
    with store.write_tx():
        store.change("tickets", other, number=77)
    first = items.of_ticket(store, ticket_id)[0].id
    with pytest.raises(BadInput, match="another open ticket"):
        agree.agree(
            store,
            act,
            here,
            ticket_id,
            yes(offered(store, here, ticket_id), tags={first: left}),
            tmp_path,
        )
