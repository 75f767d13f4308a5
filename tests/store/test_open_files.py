"""No save is taken into a log that has no name any more."""

from __future__ import annotations

import os
from pathlib import Path

import pytest

from fitcounter.errors import Unavailable
from fitcounter.store import erasing
from fitcounter.store.database import Store, journal
from fitcounter.store.opening import open_store

BY_LOG = pytest.mark.skipif(journal()[0] != "wal", reason="this SQLite keeps no log")


def save(store: Store, key: str) -> None:
    with store.write_tx():
        store.insert("settings", key=key, value='"x"')


@BY_LOG
def test_no_save_is_taken_once_somebody_removed_the_log(tmp_path: Path):
    """As a program does that believes the log was left behind: every save after it would be gone
    when the program ends.
    """
    path = tmp_path / "shop.db"
    store = open_store(path)
    save(store, "before")
    os.unlink(f"{path}-wal")
    with pytest.raises(Unavailable, match="nothing was saved"):
        save(store, "after")
    store.close()


@BY_LOG
def test_no_other_connection_of_the_process_saves_either(tmp_path: Path):
    """One that is opened afterwards finds an empty log beside an index that says otherwise."""
    path = tmp_path / "shop.db"
    first = open_store(path)
    save(first, "before")
    os.unlink(f"{path}-wal")
    for _ in range(2):
        with pytest.raises(Unavailable, match="nothing was saved"):
            save(Store(path), "after")
        with pytest.raises(Unavailable, match="nothing was saved"):
            save(first, "after")
    first.close()


def test_no_save_goes_into_a_file_that_was_moved_aside(tmp_path: Path):
    path = tmp_path / "shop.db"
    store = open_store(path)
    path.rename(tmp_path / "aside.db")
    with pytest.raises(Unavailable, match="nothing was saved"):
        save(store, "after")
    store.close()


def test_a_file_that_everybody_left_may_be_replaced(tmp_path: Path):
    """Also by a connection that was never closed but forgotten."""
    path = tmp_path / "shop.db"
    open_store(path).close()
    open_store(path)  # nobody holds it
    for side in ("", "-wal", "-shm"):
        Path(f"{path}{side}").unlink(missing_ok=True)
    store = open_store(path)
    save(store, "after")
    store.close()


@BY_LOG
def test_a_log_that_was_brought_in_is_the_same_log(tmp_path: Path):
    store = open_store(tmp_path / "shop.db")
    save(store, "one")
    erasing.rewrite(store)
    save(store, "two")
    assert store.value("SELECT count(*) FROM settings") == 2
    store.close()
