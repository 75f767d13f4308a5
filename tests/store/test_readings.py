"""Readings as rows: what no tape can say is refused by the file itself, and a row costs no table of
its own.
"""

from __future__ import annotations

import pytest
from support.cast import Clock
from support.ticket_rows import Job, make_job

from fitcounter.errors import Conflict
from fitcounter.store import readings
from fitcounter.store.database import Act, Store
from fitcounter.store.records import BootReading, LegReading


@pytest.fixture
def job(store: Store, clock: Clock) -> Job:
    return make_job(store, Act(clock.now, 1))


def a_leg(job: Job, **other: object) -> LegReading:
    at = "2026-03-14T13:10:00Z"
    return LegReading(
        job.fit_id,
        "left",
        "brought-in",
        "calf",
        254_000,
        "10",
        368_300,
        "14 1/2",
        "in",
        3,
        at,
        1,
    )._replace(**other)


def a_boot(job: Job, **other: object) -> BootReading:
    at = "2026-03-14T13:10:00Z"
    return BootReading(
        job.left, "brought-in", 254_000, "10", 368_300, "14 1/2", "in", "inside", 3, at, 1
    )._replace(**other)


@pytest.mark.parametrize(
    "wrong", [{"side": "middle"}, {"moment": "later"}, {"height_um": -1}, {"girth_um": 49_999}]
)
def test_a_leg_that_cannot_be_is_refused_and_nothing_stays(
    store: Store, job: Job, wrong: dict[str, object]
) -> None:
    before = readings.legs(store, job.fit_id)
    with pytest.raises(Conflict), store.write_tx():
        store.insert_all("leg_readings", [a_leg(job), a_leg(job, repeat=4, **wrong)])
    assert readings.legs(store, job.fit_id) == before


@pytest.mark.parametrize(
    "wrong", [{"moment": "later"}, {"method": "guessed"}, {"girth_um": 1_300_001}]
)
def test_a_boot_that_cannot_be_is_refused_and_nothing_stays(
    store: Store, job: Job, wrong: dict[str, object]
) -> None:
    before = readings.boots(store, job.left)
    with pytest.raises(Conflict), store.write_tx():
        store.insert_all("boot_readings", [a_boot(job), a_boot(job, repeat=4, **wrong)])
    assert readings.boots(store, job.left) == before


@pytest.mark.parametrize("table", ["leg_readings", "boot_readings"])
def test_a_row_is_checked_without_a_table_of_its_own(store: Store, table: str) -> None:
    """A list of three words in a check makes SQLite build one for every row, which doubled the cost
    of a sheet.
    """
    columns = [row["name"] for row in store.rows(f"SELECT name FROM pragma_table_info('{table}')")]
    steps = store.rows(
        f"EXPLAIN INSERT INTO {table} VALUES ({', '.join('?' * len(columns))})", *columns
    )
    assert len(steps) > 20
    assert not [step["opcode"] for step in steps if step["opcode"] == "OpenEphemeral"]


def test_what_was_read_of_a_pair_comes_by_its_boots(store: Store, job: Job) -> None:
    with store.write_tx():
        store.insert_all("boot_readings", [a_boot(job, item_id=job.right)])
        store.insert_all("leg_readings", [a_leg(job)])
    read = readings.brought_in(store, job.fit_id, (job.left, job.right))
    assert [one.girth_text for one in read.boots[job.right] if one.repeat == 3] == ["14 1/2"]
    assert [one.side for one in read.legs if one.repeat == 3] == ["left"]
