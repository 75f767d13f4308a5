"""The whole shop goes out a piece at a time, and keeps nobody from working."""

from __future__ import annotations

import errno
import io
import tracemalloc
import zipfile
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest
from support.cast import Clock, Counter

from fitcounter.desk.data import export_and_import
from fitcounter.desk.data.whole_shop import HeldFile, WholeShop
from fitcounter.errors import NoRoom
from fitcounter.store import every_table
from fitcounter.store.database import Store
from fitcounter.store.opening import open_store

MANY = 20_000  # rows, of two hundred letters each
MB = 1_000_000
KINDS: dict[str, Callable[[WholeShop], Iterator[bytes]]] = {
    "json": WholeShop.as_json,
    "zip": WholeShop.as_csv,
}


@pytest.fixture
def old(store: Store) -> Store:
    """A shop of many rows."""
    with store.write_tx():
        store.db.conn.executemany(
            "INSERT INTO closures (from_day, to_day, kind, why) VALUES (?, ?, ?, ?)",
            (("2026-03-01", "2026-03-02", "closed", f"{n:05}" * 40) for n in range(MANY)),
        )
    return store


@pytest.mark.parametrize("kind", KINDS)
def test_a_large_shop_is_never_held_whole(
    old: Store, tmp_path: Path, clock: Clock, kind: str
) -> None:
    whole = WholeShop(tmp_path, clock.now)
    tracemalloc.start()
    try:
        tracemalloc.reset_peak()
        before, _ = tracemalloc.get_traced_memory()
        longest = max(map(len, KINDS[kind](whole)))
        _, peak = tracemalloc.get_traced_memory()
    finally:
        tracemalloc.stop()
    assert whole.rows["closures"] == MANY
    assert longest < MB / 2
    assert peak - before < 2 * MB, "its text alone is 4 MB"


def test_who_works_on_while_it_is_read_is_not_kept_waiting_and_is_not_in_it(
    old: Store, tmp_path: Path, clock: Clock
) -> None:
    then = every_table.business_hash(old)
    pieces = WholeShop(tmp_path, clock.now).as_json()
    first = [next(pieces) for _ in range(3)]
    with old.write_tx():
        old.db.execute("DELETE FROM closures")
    (tmp_path / "shop.json").write_bytes(b"".join([*first, *pieces]))
    export_and_import.bring_in(tmp_path / "shop.json", tmp_path / "there")
    back = open_store(tmp_path / "there" / "shop.db")
    assert every_table.business_hash(back) == then
    back.close()


def test_the_download_says_how_long_it_is(old: Store, owner: Counter, tmp_path: Path) -> None:
    owner.get("/shop/everything")
    answer = owner.post("/shop/everything/csv", submission_id="take-everything-1", buffered=False)
    assert answer.status_code == 200
    found = b"".join(answer.response)
    assert answer.content_length == len(found)
    assert zipfile.ZipFile(io.BytesIO(found)).read("closures.csv").count(b"\r\n") == MANY + 1


def test_a_held_file_is_read_by_two_at_once_and_leaves_nothing_behind(tmp_path: Path) -> None:
    taken = []
    held = HeldFile((taken.append(n) or bytes([n]) * 200_000 for n in range(5)), tmp_path)
    assert taken == [0, 1, 2, 3, 4], "nobody who writes waits for a slow phone"
    one, other = held.pieces(), held.pieces()
    read = [(next(one), next(other)) for _ in range(4)]
    whole = b"".join(bytes([n]) * 200_000 for n in range(5))
    assert (b"".join(a for a, _ in read), b"".join(b for _, b in read)) == (whole, whole)
    assert held.size == len(whole)
    assert not list(tmp_path.iterdir())


def test_where_the_file_finds_no_room_a_sentence_says_so(tmp_path: Path) -> None:
    def full() -> Iterator[bytes]:
        yield b"a"
        raise OSError(errno.ENOSPC, "No space left on device")

    with pytest.raises(NoRoom, match="The disk is full"):
        HeldFile(full(), tmp_path)
