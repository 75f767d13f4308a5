"""A long work tells how far it is to whoever waits for it, and to nobody else."""

from __future__ import annotations

import threading
from datetime import UTC, datetime
from pathlib import Path

import pytest
from support.taken_out import as_tables, taken_out

from fitcounter import how_far
from fitcounter.errors import BadInput
from fitcounter.store import backup, every_table, integrity, restoring, settings
from fitcounter.store.database import Store
from fitcounter.store.opening import UP_TO_DATE, open_store

NOW = datetime(2026, 3, 17, 14, 0, tzinfo=UTC)


@pytest.fixture
def shares() -> dict[str, list[float]]:
    """What was told → the shares of it that were done, in turn."""
    return {}


@pytest.fixture
def follow(shares: dict[str, list[float]]) -> how_far.Told:
    return lambda what, done, of: shares.setdefault(what, []).append(done / of)


def whole(told: list[float]) -> bool:
    """From nothing to all of it, and never back."""
    return told[0] < 1 and told[-1] == 1 and told == sorted(told)


def test_every_thing_is_counted_once_it_is_done(
    follow: how_far.Told, shares: dict[str, list[float]]
) -> None:
    with how_far.told_to(follow):
        part = how_far.Part("Sewing", lambda: 4)
        seen = [(thing, shares["Sewing"][-1]) for thing in part.each("abcd")]
    assert seen == [("a", 0), ("b", 0.25), ("c", 0.5), ("d", 0.75)]
    assert shares["Sewing"][-1] == 1


def test_what_nobody_waits_for_tells_nobody_and_counts_nothing(
    follow: how_far.Told, shares: dict[str, list[float]]
) -> None:
    def too_dear() -> int:
        raise AssertionError

    def work() -> None:
        assert list(how_far.Part("Sewing", too_dear).each("ab")) == ["a", "b"]
        how_far.tell("Sewing", 1, 2)

    work()
    with how_far.told_to(follow):  # a server's other threads wait for nothing
        other = threading.Thread(target=work)
        other.start()
        other.join()
    assert shares == {}


def test_a_copy_and_the_way_back_tell_how_far_they_are(
    store: Store,
    tmp_path: Path,
    follow: how_far.Told,
    shares: dict[str, list[float]],
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    monkeypatch.setattr(backup, "LOOKED_AT_EVERY", 100)
    data_dir = store.path.parent
    (data_dir / "photos").mkdir()
    (data_dir / "photos" / f"{'a' * 32}.jpg").write_bytes(b"a picture")
    with store.write_tx():  # more than SQLite keeps in memory before it writes
        for number in range(40):
            settings.put(store, f"filler {number}", "x" * 200_000)
    store.close()
    with how_far.told_to(follow):
        copy = backup.make(data_dir, tmp_path / "copies", NOW)
    assert whole(shares[backup.COPYING_PICTURES])
    assert whole(shares[integrity.READING])
    assert max(shares[backup.COPYING]) > 0.5
    shares.clear()
    with how_far.told_to(follow):
        restoring.restore(copy.path, tmp_path / "new", NOW)
    assert shares[integrity.READING].count(1.0) == 2  # the copy before, and what lies there after


def test_an_export_and_the_way_in_tell_how_far_they_are(
    store: Store, tmp_path: Path, follow: how_far.Told, shares: dict[str, list[float]]
) -> None:
    with how_far.told_to(follow):
        tables, content = taken_out(store), every_table.business_hash(store)
        assert whole(shares[every_table.TAKING_OUT])
        empty = open_store(tmp_path / "new.db")
        rows = sum(len(one["rows"]) for one in tables.values())
        every_table.put_in(empty, as_tables(tables), content, rows)
        assert whole(shares[every_table.PUTTING_IN])
        other = open_store(tmp_path / "other.db")
        with pytest.raises(BadInput):
            every_table.put_in(other, as_tables({"works": {"columns": [], "rows": []}}), content, 0)
    empty.close()
    other.close()


def test_a_file_that_is_brought_up_to_date_tells_every_step(
    tmp_path: Path, follow: how_far.Told, shares: dict[str, list[float]]
) -> None:
    open_store(tmp_path / "shop.db").close()
    behind = Store(tmp_path / "shop.db")
    last = "m0002_undos"
    behind.db.execute("DROP TABLE undos")
    behind.db.execute("DELETE FROM _sqlite_migrations WHERE name = ?", [last])
    behind.close()
    with how_far.told_to(follow):
        open_store(tmp_path / "shop.db").close()
        open_store(tmp_path / "shop.db").close()
    assert shares[UP_TO_DATE] == [0, 1]
