"""Numbered tags printed in advance: sets of three with one number."""

from __future__ import annotations

import pytest

from fitcounter.desk.documents import tags_in_advance
from fitcounter.desk.shop import Shop
from fitcounter.errors import BadInput
from fitcounter.store.database import Act, Store


def test_each_set_has_a_left_a_right_and_one_for_a_bag_under_one_number(store: Store, act: Act):
    tags_in_advance.make_tags(store, act, 2)
    free = tags_in_advance.free_tags(store)
    numbers = dict.fromkeys(one.number for one in free)
    assert len(numbers) == 2
    for number in numbers:
        sides = [one.side for one in free if one.number == number]
        assert sorted(sides, key=str) == [None, "left", "right"]
    assert len({one.code for one in free}) == 6


@pytest.mark.parametrize("sets", [0, 67])
def test_no_set_and_too_many_are_asked_again(store: Store, act: Act, sets: int):
    with pytest.raises(BadInput, match="from 1 to 66"):
        tags_in_advance.make_tags(store, act, sets)
    assert tags_in_advance.free_tags(store) == []


def test_where_none_hangs_ready_none_is_printed(store: Store, choices: Shop):
    with pytest.raises(BadInput) as refused:
        tags_in_advance.free_tags_pdf(store, choices, "https://shop.example", "label")
    assert refused.value.field == "sets"
