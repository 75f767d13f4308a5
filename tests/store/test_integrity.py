"""What a changed audit shows by, with its key and without it."""

from __future__ import annotations

from datetime import UTC, datetime
from pathlib import Path

import pytest

from fitcounter.store import audit_key, integrity
from fitcounter.store.database import FIRST_HASH, Act, Store, Written, audit_hash
from fitcounter.store.opening import open_store

NOW = datetime(2026, 3, 17, 14, 0, tzinfo=UTC)


def shop(folder: Path, many: int = 20) -> Store:
    """A shop with so many rows in its audit."""
    folder.mkdir(exist_ok=True)
    store = open_store(folder / "shop.db")
    for n in range(many):
        store.once(Act(NOW), "job", lambda n=n: Written(row_id=n, detail={"n": n}))
    return store


def broken(store: Store) -> int | None:
    return integrity.broken_link(store, audit_key.of_folder(store.path.parent))


def chain_anew(store: Store, row: int, key: bytes = b"") -> None:
    """Changes a row and writes every hash from there on anew, as somebody would who has the file
    (and the key).
    """
    for name in ("audit_no_update", "audit_no_delete"):
        store.db.execute(f"DROP TRIGGER {name}")
    store.db.execute("UPDATE audit SET what = 'nothing' WHERE id = ?", [row])
    previous = store.value("SELECT hash FROM audit WHERE id = ?", row - 1) or FIRST_HASH
    columns = ", ".join(integrity.AUDITED)
    for each in store.rows(f"SELECT id, {columns} FROM audit WHERE id >= ? ORDER BY id", row):
        row_id = each.pop("id")
        own = audit_hash(previous, each, key)
        store.db.execute(
            "UPDATE audit SET previous_hash = ?, hash = ? WHERE id = ?", [previous, own, row_id]
        )
        previous = own


def test_a_chain_written_anew_without_the_key_does_not_follow(tmp_path: Path) -> None:
    store = shop(tmp_path)
    assert broken(store) is None
    chain_anew(store, 5)
    assert broken(store) == 5
    store.close()


def test_rows_from_before_there_was_a_key_count_as_they_were_written(tmp_path: Path) -> None:
    """An older file gets a key behind its rows; they must be as they were all the same."""
    store = shop(tmp_path)
    chain_anew(store, 1)
    (tmp_path / audit_key.FILE).unlink()
    audit_key._known.clear()
    store.close()
    store = open_store(tmp_path / "shop.db")
    key = audit_key.of_folder(tmp_path)
    assert key is not None
    assert (key.first, key.unproved) == (21, 0)
    store.once(Act(NOW), "job", lambda: Written(row_id=21))
    assert broken(store) is None
    store.db.execute("UPDATE audit SET what = 'else' WHERE id = 7")
    assert broken(store) == 7
    store.close()


def test_a_lost_key_is_no_alarm_and_is_known(tmp_path: Path) -> None:
    store = shop(tmp_path)
    store.close()
    (tmp_path / audit_key.FILE).unlink()
    audit_key._known.clear()
    store = open_store(tmp_path / "shop.db")
    key = audit_key.of_folder(tmp_path)
    assert key is not None
    assert (key.first, key.unproved) == (21, 20)
    store.once(Act(NOW), "job", lambda: Written(row_id=21))
    assert broken(store) is None
    chain_anew(store, 21)
    assert broken(store) == 21
    store.close()


def test_without_its_key_a_chain_is_held_by_its_links(tmp_path: Path) -> None:
    store = shop(tmp_path)
    assert integrity.broken_link(store, None) is None
    store.db.execute("DROP TRIGGER audit_no_update")
    store.db.execute("UPDATE audit SET previous_hash = hash WHERE id = 9")
    assert integrity.broken_link(store, None) == 9
    store.close()


@pytest.mark.parametrize("many", [0, 3])
def test_the_head_is_the_last_row_and_shows_when_it_is_gone(tmp_path: Path, many: int) -> None:
    store = shop(tmp_path, many)
    noted = integrity.head(store)
    assert noted.row == many
    store.once(Act(NOW), "job", lambda: Written(row_id=9))
    assert integrity.holds(store, noted)
    store.db.execute("DROP TRIGGER audit_no_delete")
    store.db.execute("DELETE FROM audit")
    assert integrity.holds(store, noted) == (many == 0)
    store.close()


def test_the_content_is_the_same_in_whatever_order_a_table_by_its_key_was_filled(
    tmp_path: Path,
) -> None:
    """Such a table has no rows by number: it is read by its key."""
    found = []
    for folder, ids in (
        ("one", ("first-sent", "later-sent")),
        ("two", ("later-sent", "first-sent")),
    ):
        store = shop(tmp_path / folder, many=1)
        with store.write_tx():
            for one in ids:
                store.insert("submissions", id=one, body_hash="h", result="[]", at="2026")
        assert integrity.in_order(store, "submissions") == '"id"'
        assert (
            integrity.in_order(store, "leg_readings")
            == '"fit_id", "moment", "side", "height_um", "repeat"'
        )
        assert integrity.in_order(store, "fits") == "rowid"
        found.append(store.rows(integrity.all_rows(store, "submissions")))
        store.close()
    assert found[0] == found[1]
