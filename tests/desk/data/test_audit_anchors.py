"""Rows that are cut or written anew are found by what the copies noted, also with the key at
hand.
"""

from __future__ import annotations

import shutil
from datetime import timedelta
from pathlib import Path

import pytest
from support.cast import Clock

from fitcounter.desk.data import audit_anchors, copy_and_bring_back, export_and_import
from fitcounter.desk.health import page as health
from fitcounter.desk.health.line import HealthLine
from fitcounter.desk.shop import Act, Store, Written, open_store
from fitcounter.store import audit_key, backup, integrity, job_log
from fitcounter.store.database import FIRST_HASH, audit_hash
from fitcounter.store.job_log import Duty


def rows(store: Store, clock: Clock, many: int) -> None:
    for n in range(many):
        store.once(Act(clock.now, 3), "noted", lambda n=n: Written(detail={"n": n}))


def line(store: Store, data_dir: Path, clock: Clock) -> HealthLine:
    found = health.look(store, data_dir, clock.now)
    return next(one for one in found if one.what == "Log of who did what")


def cut(store: Store, many: int) -> None:
    """Takes the last rows away, as if they had never been."""
    store.db.execute("DROP TRIGGER audit_no_delete")
    store.db.execute("DELETE FROM audit WHERE id > (SELECT max(id) FROM audit) - ?", [many])


def chain_anew(store: Store, row: int) -> None:
    """Changes one row and every hash from there on, with the shop's own key."""
    key = audit_key.of_folder(store.path.parent)
    assert key is not None
    store.db.execute("DROP TRIGGER audit_no_update")
    store.db.execute("UPDATE audit SET staff_id = 1 WHERE id = ?", [row])
    previous = store.value("SELECT hash FROM audit WHERE id = ?", row - 1) or FIRST_HASH
    columns = ", ".join(integrity.AUDITED)
    for each in store.rows(f"SELECT id, {columns} FROM audit WHERE id >= ? ORDER BY id", row):
        row_id = each.pop("id")
        own = audit_hash(previous, each, key.key)
        store.db.execute(
            "UPDATE audit SET previous_hash = ?, hash = ? WHERE id = ?", [previous, own, row_id]
        )
        previous = own


def test_fifty_rows_that_are_cut_are_missed_by_the_copies(
    store: Store, tmp_path: Path, clock: Clock
) -> None:
    rows(store, clock, 60)
    copy = copy_and_bring_back.make_copy(tmp_path, None, clock.now)
    assert line(store, tmp_path, clock).good
    assert line(store, tmp_path, clock).details == "It agrees with 1 copy."
    cut(store, 51)
    assert integrity.broken_link(store, audit_key.of_folder(tmp_path)) is None
    found = line(store, tmp_path, clock)
    assert found.words == f"not as {copy.path.name} noted it"
    assert "fitcounter restore" in found.todo


def test_rows_written_anew_with_the_key_differ_from_what_the_copies_noted(
    store: Store, tmp_path: Path, clock: Clock
) -> None:
    rows(store, clock, 20)
    copy_and_bring_back.make_copy(tmp_path, tmp_path / "elsewhere", clock.now)
    job_log.write(tmp_path, {"copy": Duty(made=str(tmp_path / "elsewhere" / "shop.db"))})
    chain_anew(store, 8)
    assert integrity.broken_link(store, audit_key.of_folder(tmp_path)) is None
    assert "not as shop-" in line(store, tmp_path, clock).words


def test_after_a_restore_the_file_is_held_against_what_came_since(
    store: Store, tmp_path: Path, clock: Clock
) -> None:
    """What was given up by going back to an older copy is nobody's doing."""
    rows(store, clock, 5)
    old = copy_and_bring_back.make_copy(tmp_path, None, clock.now)
    clock.on(hours=1)
    rows(store, clock, 5)
    copy_and_bring_back.make_copy(tmp_path, None, clock.now)
    store.close()
    clock.on(hours=1)
    copy_and_bring_back.bring_back(old.path, tmp_path, clock.now)
    store = open_store(tmp_path / "shop.db")
    found = line(store, tmp_path, clock)
    assert (found.good, found.details) == (True, "No copy to compare it with yet.")
    clock.on(hours=1)
    copy_and_bring_back.make_copy(tmp_path, None, clock.now)
    assert line(store, tmp_path, clock).details == "It agrees with 1 copy."
    store.close()


def test_the_off_site_copy_keeps_its_note_where_the_file_does_not_hold_it(
    store: Store, tmp_path: Path, clock: Clock
) -> None:
    off_site = tmp_path / "stick"
    off_site.mkdir()
    rows(store, clock, 9)

    def proved() -> Path:
        copy = tmp_path / "proof"
        shutil.rmtree(copy, ignore_errors=True)
        return backup.make(tmp_path, copy, clock.now).path

    assert audit_anchors.renew_off_site(off_site, proved(), tmp_path, clock.now)
    job_log.write(tmp_path, {"x": Duty(made=str(off_site))}, job_log.SECOND)
    assert line(store, tmp_path, clock).details == "It agrees with 1 copy."
    cut(store, 3)
    assert line(store, tmp_path, clock).words == f"not as {off_site} noted it"
    noted = (off_site / audit_anchors.OFF_SITE).read_bytes()
    assert not audit_anchors.renew_off_site(
        off_site, proved(), tmp_path, clock.now + timedelta(hours=1)
    )
    assert (off_site / audit_anchors.OFF_SITE).read_bytes() == noted


def test_a_copy_brings_its_key_to_a_new_machine_and_to_one_that_had_another(
    store: Store, tmp_path: Path, clock: Clock
) -> None:
    rows(store, clock, 4)
    copy = copy_and_bring_back.make_copy(tmp_path, None, clock.now)
    other = tmp_path / "other"
    other.mkdir()
    open_store(other / "shop.db").close()
    before = audit_key.of_folder(other)
    for folder in (tmp_path / "new", other):
        copy_and_bring_back.bring_back(copy.path, folder, clock.now)
        assert audit_key.of_folder(folder) == audit_key.of_folder(tmp_path)
        back = open_store(folder / "shop.db")
        assert integrity.broken_link(back, audit_key.of_folder(folder)) is None
        back.close()
    (aside,) = other.glob("before-restore-*")
    assert audit_key.of_folder(aside) == before


def test_what_is_put_in_from_an_export_goes_on_under_a_key_of_its_own(
    store: Store, tmp_path: Path, clock: Clock
) -> None:
    rows(store, clock, 4)
    export_and_import.export(tmp_path, tmp_path / "out.json", clock.now)
    new = tmp_path / "new"
    export_and_import.bring_in(tmp_path / "out.json", new)
    back = open_store(new / "shop.db")
    rows(back, clock, 2)
    assert integrity.broken_link(back, audit_key.of_folder(new)) is None
    assert audit_key.of_folder(new) != audit_key.of_folder(tmp_path)
    found = line(back, new, clock)
    assert found.good
    assert "only that none is missing was checked" in found.details
    back.close()


@pytest.mark.parametrize("text", ["", "[]", "{}", '{"head": 3}', '{"head": {"row": "x"}}'])
def test_a_note_that_cannot_be_read_says_nothing(tmp_path: Path, text: str) -> None:
    (tmp_path / audit_anchors.OFF_SITE).write_text(text)
    assert audit_anchors.of_off_site(tmp_path) == []
    assert audit_anchors.of_off_site(tmp_path / "away") == []
