"""Customers that are found by what somebody says at the counter."""

from __future__ import annotations

import pytest
from support.ticket_rows import make_job

from fitcounter.store import customers
from fitcounter.store.database import Act, Store


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
        make_job(store, act, name)
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
