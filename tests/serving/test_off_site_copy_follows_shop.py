"""The second place: what is saved is there within a second, and a machine with nothing on it
becomes the shop again.
"""

from __future__ import annotations

import os
import stat
import threading
import time
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest
from support.followed_shop import (
    all_across,
    bring_back,
    followed,
    hash_of,
    needs_litestream,
    wait_for,
)
from support.ticket_rows import make_job

from fitcounter.desk.data import erasure
from fitcounter.desk.data import off_site_copy as data_replica
from fitcounter.desk.shop import Act, Store, Written, open_store
from fitcounter.errors import Conflict, NotAllowed, NotFound, Unavailable
from fitcounter.serving import off_site_copy_follows_shop
from fitcounter.serving.off_site_place import ReplicaPlace
from fitcounter.settings import load_keys
from fitcounter.store import database, erased_list

NOW = datetime(2026, 3, 17, 14, 0, tzinfo=UTC)
pytestmark = needs_litestream


def test_a_machine_with_nothing_on_it_becomes_the_same_shop_again(
    store: Store, tmp_path: Path, second: Path, new: Path
):
    """The file to the last value, the photographs, the keys by which her link opens, and this
    evening's sheet.
    """
    load_keys(tmp_path)
    (tmp_path / "photos").mkdir()
    (tmp_path / "photos" / "a.jpg").write_bytes(b"picture")
    with followed(tmp_path, second):
        for n in range(20):
            make_job(store, Act(NOW), name=f"Customer {n}")
        (tmp_path / "photos" / "b.jpg").write_bytes(b"another")
        all_across(tmp_path)
    told = bring_back(second, new)
    assert "20 tickets" in told
    assert hash_of(new) == hash_of(tmp_path)
    assert [one.read_bytes() for one in sorted((new / "photos").iterdir())] == [
        b"picture",
        b"another",
    ]
    assert load_keys(new) == load_keys(tmp_path)


def test_who_is_erased_leaves_the_second_place_too(
    store: Store, tmp_path: Path, second: Path, new: Path
):
    """Not a byte of the name or the number in the file, its log, what Litestream keeps beside it,
    or any file of the second place.
    """
    canary = "Zyxwvut Qqqcanary"
    with store.write_tx():
        job = store.insert(
            "customers",
            name=canary,
            name_key=canary.casefold(),
            phone_typed="(555) 019-7773",
            created_at="2026-03-17T14:00:00Z",
        )
    with followed(tmp_path, second):
        assert holders(canary, tmp_path)
        assert holders(canary, second)
        erasure.erase(store, Act(NOW), job, canary)
        wait_for(lambda: not (tmp_path / erased_list.UNSWEPT).exists())
        all_across(tmp_path)
        wait_for(lambda: len(data_replica.live_folders(second)) == 1)
        assert holders(canary, tmp_path, second) == []
        assert holders("019-7773", tmp_path, second) == []
    assert erased_list.noted(second) == erased_list.noted(tmp_path)


def holders(words: str, *folders: Path) -> list[Path]:
    """Files with these words in them, as they are or inside what Litestream compressed (LTX pages
    are LZ4 blocks: literals stand plain).
    """
    files = [
        path
        for folder in folders
        for path in folder.rglob("*")
        if path.is_file() and not stat.S_ISSOCK(path.stat().st_mode)
    ]
    return [path for path in files if words.encode() in path.read_bytes()]


def test_a_live_folder_that_is_damaged_is_passed_over(
    store: Store, tmp_path: Path, second: Path, new: Path
):
    """Two starts, two live folders; the newer one is cut off everywhere, the older one serves."""
    make_job(store, Act(NOW), name="Ada Vole")
    with followed(tmp_path, second):
        pass
    os.rename(data_replica.live_folders(second)[0], second / "live-20260101T000000000000Z")
    with followed(tmp_path, second):
        pass
    assert [one.name for one in data_replica.live_folders(second)][
        1:
    ] == []  # the older one is more than two days old and went
    live = data_replica.live_folders(second)[0]
    os.rename(live, second / f"live-{(datetime.now(UTC) - timedelta(hours=1)):%Y%m%dT%H%M%S%fZ}")
    with followed(tmp_path, second):
        pass
    newest, older = data_replica.live_folders(second)
    for file in newest.rglob("*.ltx"):
        file.write_bytes(file.read_bytes()[:-40])
    bring_back(second, new)
    assert hash_of(new) == hash_of(tmp_path)
    for file in older.rglob("*.ltx"):
        file.write_bytes(b"")
    with pytest.raises(Unavailable, match="gives a whole file"):
        bring_back(second, (new / "third"))
    assert not ((new / "third") / "shop.db").exists()


def test_it_is_refused_where_it_would_not_help(
    store: Store, tmp_path: Path, second: Path, new: Path, monkeypatch: pytest.MonkeyPatch
):
    with pytest.raises(Unavailable, match="set this shop up"):
        data_replica.check(not_set_up(tmp_path), second)
    with pytest.raises(NotAllowed, match="inside the shop's own folder"):
        data_replica.check(tmp_path, tmp_path / "copies")
    with pytest.raises(NotFound, match="no shop"):
        data_replica.check(tmp_path / "nowhere", second)
    live = second / "live-20260101T000000Z"
    live.mkdir(parents=True)
    (live / data_replica.MARK).write_text('{"first": "of another shop"}')
    with pytest.raises(Conflict, match="another shop"):
        data_replica.check(tmp_path, second)
    monkeypatch.setattr(database.dbapi, "sqlite_version_info", (3, 51, 2))
    with pytest.raises(Unavailable, match="safe log"):
        data_replica.check(tmp_path, new / "third")
    with pytest.raises(NotFound, match="No off-site copy"):
        bring_back(tmp_path / "nowhere", new)


def not_set_up(tmp_path: Path) -> Path:
    folder = tmp_path / "not-set-up"
    folder.mkdir()
    open_store(folder / "shop.db").close()
    return folder


def test_a_long_log_and_steady_saves_leave_no_hole(
    store: Store, tmp_path: Path, second: Path, new: Path
):
    """With a log of more than a thousand pages SQLite would bring it in at a save of anybody's;
    what follows the log then misses a piece.
    """
    for n in range(120):  # `store` stays open, so that the log is not brought in at its closing
        save(Store(tmp_path / "shop.db"), f"before {n}", "x" * 20_000)
    assert (tmp_path / "shop.db-wal").stat().st_size > 1500 * 4096
    enough = threading.Event()
    threads = [threading.Thread(target=save_on, args=(tmp_path, name, enough)) for name in "abc"]
    with followed(tmp_path, second):
        for one in threads:
            one.start()
        time.sleep(3)
        enough.set()
        for one in threads:
            one.join()
        all_across(tmp_path)
    assert len(data_replica.live_folders(second)) == 1
    bring_back(second, new)
    assert hash_of(new) == hash_of(tmp_path)


def save(store: Store, name: str, note: str) -> None:
    row = {"name": name, "name_key": name, "note": note, "created_at": "2026-03-17T14:00:00Z"}
    store.once(Act(NOW), "job", lambda: Written(row_id=store.insert("customers", **row)))
    store.close()


def save_on(data_dir: Path, name: str, enough: threading.Event) -> None:
    n = 0
    while not enough.is_set():
        save(Store(data_dir / "shop.db"), f"{name} {n}", "x" * 3000)
        n += 1


def test_a_second_place_that_is_read_back_and_not_good_is_begun_anew(
    store: Store, tmp_path: Path, second: Path, new: Path, monkeypatch: pytest.MonkeyPatch
):
    """Somebody damages what lies there; the next reading back finds it, and nobody has to ask."""
    make_job(store, Act(NOW), name="Ada Vole")
    monkeypatch.setattr(off_site_copy_follows_shop, "PROVE_FIRST_S", 0.5)
    with followed(tmp_path, second):
        live = data_replica.live_folders(second)[0]
        wait_for(lambda: list(live.rglob("*.ltx")))
        for file in live.rglob("*.ltx"):
            file.write_bytes(file.read_bytes()[:-40])
        wait_for(lambda: data_replica.live_folders(second)[0] != live)
        all_across(tmp_path)
    bring_back(second, new)
    assert hash_of(new) == hash_of(tmp_path)


def test_one_process_follows_at_a_time(store: Store, tmp_path: Path, second: Path, new: Path):
    with followed(tmp_path, second), pytest.raises(Conflict, match="already"):
        off_site_copy_follows_shop.follow(
            tmp_path, ReplicaPlace(tmp_path, second, str(second)), threading.Event()
        )
