"""A copy that is known to be good, and the way back from any wreck."""

from __future__ import annotations

import os
import random
import threading
from contextlib import suppress
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest
from support.ticket_rows import make_job

from fitcounter.errors import Conflict, NotFound, Unavailable
from fitcounter.store import audit_key, backup, integrity, restoring
from fitcounter.store.database import Act, Store, Written
from fitcounter.store.opening import open_store

NOW = datetime(2026, 3, 17, 14, 0, tzinfo=UTC)


@pytest.fixture
def shop(tmp_path: Path) -> Path:
    """A data folder with a shop of twenty jobs in it, still in its log."""
    data = tmp_path / "data"
    data.mkdir()
    store = open_store(data / "shop.db")
    for n in range(20):
        store.once(Act(NOW), "job", lambda n=n: Written(row_id=make_job_in(store, n)))
    store.close()
    (data / "photos").mkdir()
    (data / "photos" / "a.jpg").write_bytes(b"picture")
    (data / "keys.json").write_text("{}")
    return data


def make_job_in(store: Store, n: int) -> int:
    customer = store.insert(
        "customers",
        name=f"Customer {n}",
        name_key=f" customer {n}",
        created_at="2026-03-17T14:00:00Z",
    )
    return store.insert(
        "tickets",
        number=n + 1,
        customer_id=customer,
        opened_at="2026-03-17T14:00:00Z",
        currency="USD",
    )


class SeenModes(threading.Thread):
    """Looks all the time by whom the files of a folder can be read."""

    def __init__(self, folder: Path) -> None:
        super().__init__(daemon=True)
        self.folder, self.enough, self.seen = folder, threading.Event(), set[int]()

    def run(self) -> None:
        while not self.enough.is_set():
            for entry in os.scandir(self.folder):
                with suppress(FileNotFoundError):
                    if entry.is_file():
                        self.seen.add(entry.stat().st_mode & 0o777)

    def stop(self) -> None:
        self.enough.set()
        self.join()


def hash_of(data: Path) -> str:
    store = Store(data / "shop.db")
    try:
        return integrity.content_hash(store)
    finally:
        store.close()


def test_a_copy_made_while_the_shop_writes_holds_what_was_written(shop: Path, tmp_path: Path):
    writer = open_store(shop / "shop.db")
    before = integrity.content_hash(writer)
    copy = backup.make(shop, tmp_path / "copies", NOW)
    assert copy.content_hash == before
    assert backup.verify(copy.path).sound
    assert (tmp_path / "copies" / "photos" / "a.jpg").read_bytes() == b"picture"
    assert copy.path.stat().st_size > 0
    writer.close()


def test_nobody_else_can_read_a_copy_in_a_folder_that_was_there_before(shop: Path, tmp_path: Path):
    """Neither while it is written nor after, under the usual umask."""
    folder, before = tmp_path / "stick", os.umask(0o022)
    folder.mkdir(mode=0o755)
    watcher = SeenModes(folder)
    try:
        watcher.start()
        copy = backup.make(shop, folder, NOW)
        restoring.restore(copy.path, tmp_path / "new", NOW)
    finally:
        watcher.stop()
        os.umask(before)
    assert watcher.seen == {0o600}
    files = [path for path in tmp_path.rglob("*") if path.is_file() and "data" not in path.parts]
    assert len(files) > 5
    assert {oct(path.stat().st_mode & 0o777) for path in files} == {"0o600"}


def test_the_content_hash_sees_a_single_changed_figure(shop: Path):
    before = hash_of(shop)
    store = Store(shop / "shop.db")
    with store.write_tx():
        store.db.execute("UPDATE tickets SET number = number + 100 WHERE id = 7")
    store.close()
    assert hash_of(shop) != before


WRECKS = {
    "nothing wrong": lambda data: None,
    "file gone": lambda data: (data / "shop.db").unlink(),
    "file empty": lambda data: (data / "shop.db").write_bytes(b""),
    "cut in half": (
        lambda data: (data / "shop.db").write_bytes(
            (data / "shop.db").read_bytes()[: (data / "shop.db").stat().st_size // 2]
        )
    ),
    "cut to one page": (
        lambda data: (data / "shop.db").write_bytes((data / "shop.db").read_bytes()[:4096])
    ),
    "header gone": (
        lambda data: (data / "shop.db").write_bytes(
            b"\0" * 100 + (data / "shop.db").read_bytes()[100:]
        )
    ),
    "all noise": lambda data: (data / "shop.db").write_bytes(random.Random(1).randbytes(50000)),
    "a text file": lambda data: (data / "shop.db").write_text("not a shop"),
    "an older shop": lambda data: (data / "shop.db").write_bytes(b""),
    "a stale log beside it": (
        lambda data: (data / "shop.db-wal").write_bytes(random.Random(2).randbytes(32768))
    ),
    "an empty log beside it": lambda data: (data / "shop.db-wal").write_bytes(b""),
    "a stale index of the log": (
        lambda data: (data / "shop.db-shm").write_bytes(random.Random(3).randbytes(32768))
    ),
    "a stale journal": (
        lambda data: (data / "shop.db-journal").write_bytes(random.Random(4).randbytes(8192))
    ),
    "pages swapped": lambda data: _swap(data / "shop.db"),
    "a page of nothing": lambda data: _blank(data / "shop.db"),
    "photographs gone": lambda data: (data / "photos" / "a.jpg").unlink(),
    "keys gone": lambda data: (data / "keys.json").unlink(),
    "folder gone": lambda data: _all_gone(data),
    **{f"bit {n} turned": lambda data, n=n: _turn(data / "shop.db", n) for n in range(6)},
}


def _swap(path: Path) -> None:
    held = bytearray(path.read_bytes())
    held[8192:12288], held[12288:16384] = held[12288:16384], held[8192:12288]
    path.write_bytes(bytes(held))


def _blank(path: Path) -> None:
    held = bytearray(path.read_bytes())
    held[8192:12288] = bytes(4096)
    path.write_bytes(bytes(held))


def _turn(path: Path, n: int) -> None:
    held = bytearray(path.read_bytes())
    at = random.Random(n).randrange(len(held))
    held[at] ^= 1 << n
    path.write_bytes(bytes(held))


def _all_gone(data: Path) -> None:
    for one in sorted(data.rglob("*"), reverse=True):
        one.rmdir() if one.is_dir() else one.unlink()
    data.rmdir()


@pytest.mark.parametrize("wreck", WRECKS)
def test_one_command_brings_the_same_content_back_from_any_wreck(
    shop: Path, tmp_path: Path, wreck: str
):
    copy = backup.make(shop, tmp_path / "copies", NOW)
    WRECKS[wreck](shop)
    after = restoring.restore(copy.path, shop, NOW)
    assert after.content_hash == copy.content_hash
    assert hash_of(shop) == copy.content_hash
    assert (shop / "photos" / "a.jpg").read_bytes() == b"picture"
    assert (shop / "keys.json").exists()


def test_there_are_twenty_wrecks_at_least():
    assert len(WRECKS) >= 20


def test_what_was_there_before_is_moved_aside_and_never_overwritten(shop: Path, tmp_path: Path):
    copy = backup.make(shop, tmp_path / "copies", NOW)
    old = (shop / "shop.db").read_bytes()
    restoring.restore(copy.path, shop, NOW)
    aside = next(shop.glob("before-restore-*"))
    assert (aside / "shop.db").read_bytes() == old


def test_a_shop_that_is_open_is_not_restored_over(shop: Path, tmp_path: Path):
    copy = backup.make(shop, tmp_path / "copies", NOW)
    store = open_store(shop / "shop.db")
    with store.write_tx(), pytest.raises(Conflict, match="Stop it first"):
        restoring.restore(copy.path, shop, NOW)
    store.close()


def test_a_copy_that_is_not_good_changes_nothing(shop: Path, tmp_path: Path):
    copy = backup.make(shop, tmp_path / "copies", NOW)
    _blank(copy.path)
    before = hash_of(shop)
    with pytest.raises(Unavailable):
        restoring.restore(copy.path, shop, NOW)
    assert hash_of(shop) == before
    with pytest.raises(NotFound):
        restoring.restore(tmp_path / "nowhere.db", shop, NOW)


@pytest.mark.parametrize("seed", range(100))
def test_a_turned_bit_in_a_copy_is_harmless_or_found(shop_copy: tuple[bytes, Path], seed: int):
    """Harmless: the content is still the same to the last value."""
    held, path = shop_copy
    turned = bytearray(held)
    for n in range(4):
        at = random.Random(seed * 4 + n).randrange(len(held))
        turned[at] ^= 1 << random.Random(seed).randrange(8)
        path.write_bytes(bytes(turned))
        found = backup.verify(path)
        assert not found.sound or found.content_hash == backup.copies(path.parent)[0].content_hash
        turned[at] = held[at]


@pytest.fixture(scope="module")
def shop_copy(tmp_path_factory: pytest.TempPathFactory) -> tuple[bytes, Path]:
    data = tmp_path_factory.mktemp("flips")
    store = open_store(data / "shop.db")
    for n in range(20):
        store.once(Act(NOW), "job", lambda n=n: Written(row_id=make_job_in(store, n)))
    make_job(store, Act(NOW))
    store.close()
    copy = backup.make(data, data / "copies", NOW)
    return copy.path.read_bytes(), copy.path


def test_the_newest_copy_is_the_one_with_the_longest_audit_whatever_its_date(
    shop: Path, tmp_path: Path
):
    wrong = backup.make(shop, tmp_path / "copies", NOW + timedelta(days=800))
    store = open_store(shop / "shop.db")
    store.once(Act(NOW), "job", lambda: Written(row_id=make_job_in(store, 20)))
    store.close()
    right = backup.make(shop, tmp_path / "copies", NOW)
    assert backup.copies(tmp_path / "copies") == [right, wrong]


def test_a_broken_link_of_the_audit_is_named(shop: Path):
    store = Store(shop / "shop.db")
    store.db.execute("DROP TRIGGER audit_no_update")
    store.db.execute("UPDATE audit SET what = 'something else' WHERE id = 5")
    assert integrity.broken_link(store, audit_key.of_folder(store.path.parent)) == 5
    store.close()
