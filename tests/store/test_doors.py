"""How requests come to the shop's file: a thread keeps its connection, no other thread gets it, a broken one is not used again."""

from __future__ import annotations

from concurrent.futures import ThreadPoolExecutor
from pathlib import Path

import pytest

from fitcounter.store.doors import EachOpens, KeptOpen
from fitcounter.store.migrations import open_store


@pytest.fixture
def path(tmp_path: Path) -> Path:
    open_store(tmp_path / "shop.db").close()
    return tmp_path / "shop.db"


def test_a_thread_keeps_its_connection_and_sees_what_others_wrote(path: Path):
    door, other = KeptOpen(path), EachOpens(path)
    kept = door.enter()
    door.leave(kept)
    writing = other.enter()
    with writing.write_tx():
        writing.insert("settings", key="name", value='"The boot counter"')
    other.leave(writing)
    assert door.enter() is kept
    assert kept.value("SELECT value FROM settings WHERE key = 'name'") == '"The boot counter"'


def test_no_thread_gets_the_connection_of_another(path: Path):
    door = KeptOpen(path)
    kept = door.enter()
    with ThreadPoolExecutor(1) as pool:
        assert pool.submit(lambda: door.enter() is kept).result() is False


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
