"""Tickets and customers found by what is typed into the one field of today."""

from __future__ import annotations

import pytest
from support.ticket_rows import Job, make_job

from fitcounter.store import search, tickets
from fitcounter.store.customers import name_key
from fitcounter.store.database import Act, Store


def change(store: Store, ticket_id: int, **columns: object) -> None:
    with store.write_tx():
        store.change("tickets", ticket_id, **columns)


def test_a_number_finds_the_open_ticket_before_those_that_had_it(store: Store, act: Act, job: Job):
    older, newest = (make_job(store, act, name) for name in ("Tobias", "Noor"))
    for other in (older, newest):
        change(store, other.ticket_id, state="closed", number=1)
    found = [one.id for one in search.by_number(store, 1)]
    assert found == [job.ticket_id, newest.ticket_id, older.ticket_id]


def test_open_tickets_of_customers_come_before_newer_ones(store: Store, act: Act, job: Job):
    newer = make_job(store, act, "Tobias")
    change(store, newer.ticket_id, state="out")
    ids = [tickets.get(store, one.ticket_id).customer_id for one in (newer, job)]
    found = [one.id for one in search.of_customers(store, ids)]
    assert found == [job.ticket_id, newer.ticket_id]
    assert search.of_customers(store, []) == []


@pytest.mark.parametrize(
    ("piece", "open_now", "found"),
    [
        ("mariso", False, True),
        ("MARISÓL", False, True),
        ("okafor", True, True),
        ("okafor", False, True),
        ("lind okaf", False, True),
        ("lind okaf maud", True, False),
        ('lind"', True, False),
        ("m", True, False),
        ("%%", True, False),
        ("ma_i", True, False),
    ],
)
def test_a_customer_is_found_by_how_a_word_of_the_name_begins(
    store: Store, job: Job, piece: str, open_now: bool, found: bool
):
    if not open_now:
        change(store, job.ticket_id, state="closed")
    names = [one.name for one in search.by_words(store, piece)]
    assert names == (["Marisol Okafor-Lind"] if found else [])


def test_somebody_who_was_erased_is_not_found_by_any_way(store: Store, job: Job):
    customer_id = tickets.get(store, job.ticket_id).customer_id
    assert [one.id for one in search.by_last4(store, "0142")] == [customer_id]
    assert [one.id for one in search.open_names(store)] == [customer_id]
    with store.write_tx():
        store.change("customers", customer_id, erased_at="2026-03-17T14:00:00Z")
    assert search.by_last4(store, "0142") == []
    assert search.by_words(store, "Marisol") == []
    assert search.open_names(store) == []


@pytest.mark.parametrize(
    "typed",
    ["al", "alma", "alma k", "alma ko", "k", "ko", "alma kolm", "zz", "alma zz", "k a", "b k"],
)
@pytest.mark.parametrize("newest", [3, 20, 500], ids=lambda n: f"the newest {n} first")
@pytest.mark.parametrize("common", [1, 4, 500], ids=lambda n: f"common from {n}")
def test_however_common_a_beginning_the_newest_with_every_word_are_found(
    store: Store, monkeypatch: pytest.MonkeyPatch, typed: str, newest: int, common: int
):
    monkeypatch.setattr(search, "NEWEST", newest)
    monkeypatch.setattr(search, "COMMON", common)
    names = [("Alma", "Bruno", "Alma", "Cora")[n % 4] + f" {'KJ'[n % 3 % 2]}olm" for n in range(60)]
    with store.write_tx():
        for n, name in enumerate(names, 1):
            row = {"name": name, "name_key": name_key(name), "created_at": "2026-03-17T14:00:00Z"}
            store.insert("customers", id=n, **row)
        store.change("customers", 57, erased_at="2026-03-17T15:00:00Z")
    words = typed.split()
    having = [
        n
        for n, name in enumerate(names, 1)
        if n != 57 and all(f" {word}" in f" {name.casefold()}" for word in words)
    ]
    wanted = sorted(having, reverse=True)[: search.MOST] if len("".join(words)) > 1 else []
    assert [one.id for one in search.by_words(store, typed)] == wanted
