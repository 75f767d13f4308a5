"""How requests come to the shop's file: a connection waits open, one request has it at a time, a
broken one is not used again.
"""

from __future__ import annotations

from concurrent.futures import ThreadPoolExecutor
from pathlib import Path

import pytest

from fitcounter.store import database
from fitcounter.store.connections import EachOpens, KeptOpen
from fitcounter.store.database import Store
from fitcounter.store.opening import open_store


@pytest.fixture
def path(tmp_path: Path) -> Path:
    open_store(tmp_path / "shop.db").close()
    return tmp_path / "shop.db"


def test_a_connection_waits_open_and_sees_what_others_wrote(path: Path):
    door, other = KeptOpen(path), EachOpens(path)
    kept = door.enter()
    door.leave(kept)
    writing = other.enter()
    with writing.write_tx():
        writing.insert("settings", key="name", value='"The boot counter"')
    other.leave(writing)
    assert door.enter() is kept
    assert kept.value("SELECT value FROM settings WHERE key = 'name'") == '"The boot counter"'


def test_another_thread_takes_the_one_that_waits_and_two_at_once_have_two(path: Path):
    door = KeptOpen(path)
    kept = door.enter()
    with ThreadPoolExecutor(1) as pool:
        assert pool.submit(door.enter).result() is not kept
        door.leave(kept)
        assert (
            pool.submit(lambda: door.enter().value("SELECT count(*) FROM settings")).result() == 0
        )
    assert not door.free


def test_a_connection_left_in_the_middle_of_a_write_is_dropped_and_its_write_undone(path: Path):
    door = KeptOpen(path)
    broken = door.enter()
    broken.db.execute("BEGIN IMMEDIATE")
    broken.insert("settings", key="name", value='"half"')
    door.leave(broken)
    fresh = door.enter()
    assert fresh is not broken
    with fresh.write_tx():
        assert fresh.value("SELECT count(*) FROM settings") == 0


def test_where_each_opens_the_file_is_free_when_one_has_left(path: Path):
    door = EachOpens(path)
    first = door.enter()
    first.db.execute("BEGIN IMMEDIATE")
    door.leave(first)
    second = door.enter()
    with second.write_tx():
        second.insert("settings", key="name", value='"free"')
    door.leave(second)


@pytest.mark.skipif(database.journal()[0] != "wal", reason="this SQLite keeps no log")
def test_a_long_log_is_brought_in_once_by_whoever_leaves(
    path: Path, monkeypatch: pytest.MonkeyPatch
):
    """Afterwards it is short again, so that not every request after it pays; while somebody reads,
    nobody waits and the next one tries.
    """
    monkeypatch.setattr(database, "LONG_LOG_BYTES", 100_000)
    door, log = KeptOpen(path), path.with_name("shop.db-wal")
    reading = Store(path)
    reading.db.execute("BEGIN")
    reading.value("SELECT count(*) FROM settings")
    kept = door.enter()
    with kept.write_tx():
        for number in range(200):
            kept.insert("settings", key=f"note {number}", value='"' + "x" * 2000 + '"')
    door.leave(kept)
    assert log.stat().st_size > 100_000
    reading.db.execute("COMMIT")
    door.leave(door.enter())
    assert log.stat().st_size == 0
    assert reading.value("SELECT count(*) FROM settings") == 200
    reading.close()
