"""The whole shop as plain values and back, and all that is kept of one customer."""

from __future__ import annotations

from collections import deque
from collections.abc import Iterator
from pathlib import Path

import pytest
from support.taken_out import as_tables, taken_out
from support.ticket_rows import Job, make_job

from fitcounter.errors import BadInput, Conflict
from fitcounter.store import every_table, integrity, tickets
from fitcounter.store.database import Act, Store
from fitcounter.store.opening import open_store


@pytest.fixture
def empty(tmp_path: Path) -> Iterator[Store]:
    opened = open_store(tmp_path / "empty.db")
    yield opened
    opened.close()


def test_the_hash_of_what_is_read_on_the_way_out_is_the_one_of_the_shop(store: Store, job: Job):
    content = integrity.ContentHash(store)
    for table in every_table.take_out(store, content):
        deque(table.rows, maxlen=0)
    assert content.hexdigest() == every_table.business_hash(store)


def test_what_opens_a_door_stays_behind(store: Store):
    taken = taken_out(store)
    assert not set(every_table.OF_THE_MACHINE) & set(taken)
    assert not {"passphrase_hash", "pin_hash"} & set(taken["staff"]["columns"])
    assert len(taken["staff"]["rows"]) == 3


def test_a_shop_put_into_an_empty_file_is_the_same_shop(store: Store, job: Job, empty: Store):
    assert every_table.is_empty(empty)
    every_table.put_in(empty, as_tables(taken_out(store)), every_table.business_hash(store), 0)
    assert not every_table.is_empty(empty)
    assert every_table.business_hash(empty) == every_table.business_hash(store)
    assert tickets.get(empty, job.ticket_id) == tickets.get(store, job.ticket_id)


def test_a_shop_that_is_there_already_is_not_written_over(store: Store, job: Job):
    with pytest.raises(Conflict):
        every_table.put_in(store, as_tables(taken_out(store)), every_table.business_hash(store), 0)


@pytest.mark.parametrize(
    "wrong",
    ["a table less", "a value that does not fit", "a row that is referred to gone", "another hash"],
)
def test_a_file_that_is_not_whole_leaves_the_shop_empty(
    store: Store, job: Job, empty: Store, wrong: str
):
    told, expected = taken_out(store), every_table.business_hash(store)
    if wrong == "a table less":
        del told["trees"]
    elif wrong == "a value that does not fit":
        told["staff"]["rows"][0] = told["staff"]["rows"][0][:-1]
    elif wrong == "a row less":
        told["tickets"]["rows"].pop()
    else:
        expected = "0" * 64
    with pytest.raises(BadInput):
        every_table.put_in(empty, as_tables(told), expected, 0)
    assert every_table.is_empty(empty)
    assert empty.value("PRAGMA foreign_keys") == 1


def test_what_is_kept_of_a_customer_is_theirs_alone_and_without_the_secret_of_the_link(
    store: Store, act: Act, job: Job
):
    make_job(store, act, "Tobias Aarnes")
    kept = every_table.of_customer(store, tickets.get(store, job.ticket_id).customer_id)
    assert [row["name"] for row in kept["customers"]] == ["Marisol Okafor-Lind"]
    assert [row["id"] for row in kept["items"]] == [job.left, job.right, job.bag]
    assert [row["id"] for row in kept["tickets"]] == [job.ticket_id]
    assert "link_hash" not in kept["tickets"][0]
