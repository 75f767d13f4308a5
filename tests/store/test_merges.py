"""Two entries of one person as rows: who is alike, what moves, what comes back."""

from __future__ import annotations

import pytest

from fitcounter.store import customers, merges
from fitcounter.store.database import Act, Store

HOME = ("(555) 010-0142", "+15550100142", "0142")


@pytest.fixture
def mine(store: Store, act: Act) -> int:
    with store.write_tx():
        return customers.add(store, act, "Marisol Okafor-Lind", HOME, "mari@example.org")


@pytest.mark.parametrize(
    ("name", "phone", "email", "is_alike"),
    [
        ("Lind Okafor, Marisol".replace(",", ""), ("", "", ""), "", True),
        ("M. Lind", HOME, "", True),
        ("M. Lind", ("0142", "", "0142"), "", True),
        ("M. Lind", ("", "", ""), "MARI@example.org", True),
        ("Marisol Okafor", ("", "", ""), "", False),
        ("M. Lind", ("(412) 555-0142", "+14125550142", "0142"), "", False),
        ("M. Lind", ("", "", ""), "", False),
    ],
)
def test_the_same_number_e_mail_or_name_is_alike(
    store: Store,
    act: Act,
    mine: int,
    name: str,
    phone: tuple[str, str, str],
    email: str,
    is_alike: bool,
):
    with store.write_tx():
        other = customers.add(store, act, name, phone, email)
    found = [one.id for one in merges.alike(store, customers.get(store, mine))]
    assert found == ([other] if is_alike else [])


def test_what_went_into_an_entry_is_known_through_every_merge(store: Store, act: Act, mine: int):
    with store.write_tx():
        second, third = (customers.add(store, act, name) for name in ("Bo Lind", "Cy Lind"))
        for kept, gone in ((second, third), (mine, second)):
            merges.merge(store, act, *(customers.get(store, one) for one in (kept, gone)), {})
    assert [one for one, _ in merges.merged_into(store, mine)] == [second, third]
    with store.write_tx():
        merges.forget_of(store, mine)
    assert merges.last(store, mine) is None


def test_after_a_while_nothing_is_left_of_what_stood_there(store: Store, act: Act, mine: int):
    with store.write_tx():
        other = customers.add(store, act, "Bo Lind")
        merges.merge(store, act, customers.get(store, mine), customers.get(store, other), {})
        assert merges.forget(store, "2026-01-01T00:00:00Z") == 0
        assert merges.forget(store, "2099-01-01T00:00:00Z") == 1
    assert merges.last(store, mine) is None
    assert store.value("SELECT count(*) FROM merges WHERE before LIKE '%Bo%'") == 0
