"""A shop with a second place: the real Litestream follows a real file."""

from __future__ import annotations

import shutil
import sys
import threading
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from datetime import UTC, datetime
from pathlib import Path

import pytest

from fitcounter.desk.data import off_site_copy as data_replica
from fitcounter.serving import off_site_copy_follows_shop
from fitcounter.serving.off_site_place import PROGRAM, ReplicaPlace
from fitcounter.store import integrity, job_log
from fitcounter.store.database import Store, journal

HAS_IT = shutil.which(PROGRAM, path=str(Path(sys.executable).parent)) or shutil.which(PROGRAM)
FOLLOWS = bool(HAS_IT) and journal()[0] == "wal"
needs_litestream = [
    pytest.mark.skipif(
        not HAS_IT,
        reason="Litestream has no wheel for this machine: put it on the path to run these",
    ),
    pytest.mark.skipif(
        journal()[0] != "wal",
        reason="this SQLite has no safe log to follow: pysqlite3 has no wheel for this machine",
    ),
]


def wait_for(seen: Callable[[], object], until_s: float = 30) -> None:
    end = time.monotonic() + until_s
    while not seen():
        assert time.monotonic() < end, "it never came"
        time.sleep(0.02)


@contextmanager
def followed(data_dir: Path, folder: Path, look_s: float = 0.1) -> Iterator[None]:
    """While the block runs the second place follows; it begins once everything is across."""
    enough = threading.Event()
    place = ReplicaPlace(data_dir, folder, str(folder))
    thread = threading.Thread(
        target=off_site_copy_follows_shop.follow, args=(data_dir, place, enough, look_s)
    )
    thread.start()
    try:
        all_across(data_dir)
        yield
    finally:
        enough.set()
        thread.join(30)
        assert not thread.is_alive()


def across_at(data_dir: Path) -> str:
    return job_log.read(data_dir, job_log.SECOND).get(data_replica.NAME, job_log.Duty()).done_at


def all_across(data_dir: Path) -> None:
    """Waits until what is saved now is in the second place."""
    (data_dir / job_log.SECOND).unlink(missing_ok=True)
    wait_for(lambda: across_at(data_dir))
    (data_dir / job_log.SECOND).unlink(missing_ok=True)
    wait_for(lambda: across_at(data_dir))


def bring_back(folder: Path, data_dir: Path) -> str:
    data_dir.mkdir(exist_ok=True)
    place = ReplicaPlace(data_dir, folder, str(folder))
    return data_replica.bring_back(folder, data_dir, datetime.now(UTC), place.fetch)


def hash_of(data_dir: Path) -> str:
    """What a shop's file holds, by its content."""
    store = Store(data_dir / "shop.db")
    try:
        return integrity.content_hash(store)
    finally:
        store.close()
