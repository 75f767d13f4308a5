"""A machine that dies while an old shop's file is brought up to date leaves the file as it was or
as it becomes, never between.
"""

from __future__ import annotations

import random
import shutil
import time
from datetime import UTC, datetime
from pathlib import Path

import pytest
from sqlite_utils import Database
from system.killed_migration import Killer

from fitcounter.desk.data import copy_and_bring_back
from fitcounter.store import backup, integrity
from fitcounter.store.database import Store
from fitcounter.store.migrations import migrations
from fitcounter.store.opening import open_store

AT, NOW = "2026-03-17T14:00:00Z", datetime(2026, 3, 17, 14, 0, tzinfo=UTC)
NAMES = [one.name for one in migrations.pending(Database(memory=True))]
RECORDS = "_sqlite_migrations"


def bring_to(path: Path, steps: int) -> None:
    """Up to date as the program was when it had so many steps."""
    store = Store(path)
    migrations.apply(store.db, stop_before=NAMES[steps] if steps < len(NAMES) else None)
    store.close()


def fill(path: Path, jobs: int) -> None:
    """Rows of the first program, so many that a step takes a while."""
    store = Store(path)
    with store.write_tx():
        for n in range(jobs):
            customer = store.insert(
                "customers", name=f"Customer {n}", name_key=f" customer {n}", created_at=AT
            )
            ticket = store.insert(
                "tickets",
                number=n % 9999 + 1,
                customer_id=customer,
                opened_at=AT,
                currency="USD",
                state="closed",
            )
            item = store.insert(
                "items",
                ticket_id=ticket,
                letter="a",
                kind="boot",
                side="left",
                work="stretch",
                description="boot",
                state="queued",
                since=AT,
            )
            gap = {
                "item_id": item,
                "kind": "gap",
                "height_um": 304800,
                "height_text": "12",
                "gap_um": 9525,
                "gap_text": "3/8",
                "unit": "in",
                "read_at": AT,
            }
            store.insert("gap_readings", **gap)
            phone = store.insert("phones", label=f"phone {n}")
            store.insert(
                "sessions",
                token_hash=f"hash {n}",
                staff_id=1,
                phone_id=phone,
                started_at=AT,
                seen_at=AT,
                ends_at=AT,
            )
    store.close()


def hash_of(path: Path) -> tuple[tuple[str, ...], str]:
    """The steps that are noted, and the hash of everything but the note."""
    store = Store(path)
    try:
        tables = [name for name in integrity.tables(store) if name != RECORDS]
        noted = (
            tuple(
                str(row["name"]) for row in store.rows(f"SELECT name FROM {RECORDS} ORDER BY rowid")
            )
            if RECORDS in integrity.tables(store)
            else ()
        )
        assert store.value("PRAGMA integrity_check") == "ok"
        assert store.db.execute("PRAGMA foreign_key_check").fetchall() == []
        return noted, integrity.content_hash(
            store, {name: integrity.all_rows(store, name) for name in tables}
        )
    finally:
        store.close()


@pytest.fixture(scope="module")
def old(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A shop of the first program."""
    path = tmp_path_factory.mktemp("old") / "shop.db"
    bring_to(path, 1)
    store = Store(path)
    with store.write_tx():
        store.insert("staff", name="Ada", initials="AV", role="owner", created_at=AT)
    store.close()
    fill(path, 400)
    return path


@pytest.fixture(scope="module")
def whole(old: Path, tmp_path_factory: pytest.TempPathFactory) -> dict[tuple[str, ...], str]:
    """Each state that may be seen: the steps noted → the hash of the content, as an undisturbed run
    leaves it.
    """
    states, path = {}, tmp_path_factory.mktemp("states") / "shop.db"
    shutil.copy(old, path)
    for steps in range(1, len(NAMES) + 1):
        bring_to(path, steps)
        noted, found = hash_of(path)
        assert noted == tuple(NAMES[:steps])
        states[noted] = found
    return states


def test_an_older_file_is_copied_as_it_is_before_it_is_brought_up_to_date(
    old: Path, whole: dict[tuple[str, ...], str], tmp_path: Path
):
    """The copy is good, and it is the file of the older program; a file that is up to date, and
    none, want no copy.
    """
    assert copy_and_bring_back.copy_before_renewal(tmp_path, None, NOW) == ""
    shutil.copy(old, tmp_path / "shop.db")
    assert "brought up to date" in copy_and_bring_back.copy_before_renewal(tmp_path, None, NOW)
    (copy,) = backup.copies(tmp_path / "copies")
    assert backup.verify(copy.path).sound
    assert hash_of(copy.path) == (tuple(NAMES[:1]), whole[tuple(NAMES[:1])])
    open_store(tmp_path / "shop.db").close()
    assert copy_and_bring_back.copy_before_renewal(tmp_path, None, NOW) == ""


def kill(
    killer: Killer,
    old: Path,
    room: Path,
    whole: dict[tuple[str, ...], str],
    statement: int,
    after_s: float,
) -> str:
    """One kill: what is left is one of the states, and the next start brings it to the newest."""
    room.mkdir()
    path = room / "shop.db"
    shutil.copy(old, path)
    told = killer.migrate(path, statement, after_s)
    assert told in ("killed", "done")
    noted, found = hash_of(path)
    assert whole[noted] == found, (statement, after_s, noted)
    open_store(path).close()
    noted, found = hash_of(path)
    assert (noted, found) == (tuple(NAMES), whole[tuple(NAMES)])
    shutil.rmtree(room)
    return told


def undisturbed_s(killer: Killer, old: Path, path: Path) -> float:
    shutil.copy(old, path)
    start = time.monotonic()
    assert killer.migrate(path) == "done"
    return time.monotonic() - start


def run(
    old: Path, room: Path, whole: dict[tuple[str, ...], str], every: int, moments: int
) -> tuple[int, int]:
    """Killed before every so-many-th statement, and at moments of chance.

    Returns how many kills of each kind there were.
    """
    chance, statement, before, between = random.Random(5), 1, 0, 0
    with Killer() as killer:
        took = min(undisturbed_s(killer, old, room / f"undisturbed-{n}.db") for n in range(5))
        while kill(killer, old, room / str(statement), whole, statement, 0) == "killed":
            statement, before = statement + every, before + 1
        for n in range(moments):
            between += (
                kill(killer, old, room / f"moment-{n}", whole, 0, chance.uniform(0, took))
                == "killed"
            )
    return before, between


def test_killed_at_some_moments_it_is_old_or_new(
    old: Path, whole: dict[tuple[str, ...], str], tmp_path: Path
):
    before, _ = run(old, tmp_path, whole, every=9, moments=4)
    assert before >= 5


@pytest.mark.slow
def test_killed_before_each_statement_and_at_fifty_moments_it_is_old_or_new(
    old: Path, whole: dict[tuple[str, ...], str], tmp_path: Path
):
    before, between = run(old, tmp_path, whole, every=1, moments=50)
    print(
        f"killed before each of {before} statements and {between} times at a moment of chance:"
        " always old or new"
    )
    assert before >= len(NAMES) * 3
    assert between >= 10
