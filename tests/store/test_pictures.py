"""A picture is named by a name alone: no row, wherever it came from, leads to another file."""

from __future__ import annotations

import json
from pathlib import Path

import pytest
from support.cast import Clock
from support.ticket_rows import Job, make_job

from fitcounter.desk.data import export_and_import
from fitcounter.desk.front_desk import photos as desk_photos
from fitcounter.desk.quote.signature import signature
from fitcounter.errors import BadInput, NotFound
from fitcounter.store import erased_list, pictures
from fitcounter.store.database import Act, Store, dbapi
from fitcounter.store.migrations import migrations
from fitcounter.store.opening import open_store

PHOTO = {"width_px": 1, "height_px": 1, "bytes": 1, "content_hash": "", "moment": "before"}
CONSENT = {"text_version": "1", "sentences": "", "name": "A", "agreed_at": "2026-03-17T14:00:00Z"}
LEADS_AWAY = ("../victim", "/etc/passwd", "a/b.jpg", "..", ".", ".hidden", "a\nb", "a\0b", "é.jpg")


@pytest.fixture
def victim(tmp_path: Path) -> Path:
    """A file of the user's, outside the pictures."""
    path = tmp_path / "victim"
    path.write_text("mine")
    (tmp_path / "photos").mkdir()
    (tmp_path / "signatures").mkdir()
    return path


@pytest.fixture
def hostile(store: Store, clock: Clock, victim: Path) -> tuple[Job, int]:
    """A ticket whose photo and signature lead out of their folders, as a file from elsewhere may
    say it.
    """
    job = make_job(store, Act(clock.now), "Ada")
    store.db.execute("PRAGMA ignore_check_constraints=ON")
    with store.write_tx():
        taken = {**PHOTO, "taken_at": "2026-03-17T14:00:00Z"}
        photo_id = store.insert("photos", ticket_id=job.ticket_id, file="../victim", **taken)
        store.insert("consents", ticket_id=job.ticket_id, signature_file="../victim", **CONSENT)
    return job, photo_id


def test_a_shop_whose_pictures_lead_elsewhere_is_not_put_in(
    store: Store, hostile: tuple[Job, int], tmp_path: Path, clock: Clock, victim: Path
) -> None:
    file = tmp_path / "shop.json"
    export_and_import.export(tmp_path, file, clock.now)
    assert "../victim" in file.read_text()
    with pytest.raises(BadInput):
        export_and_import.bring_in(file, tmp_path / "there")
    there = open_store(tmp_path / "there" / "shop.db")
    assert there.value("SELECT count(*) FROM tickets") == 0
    there.close()


def test_a_name_that_leads_elsewhere_is_neither_read_nor_deleted(
    store: Store, hostile: tuple[Job, int], tmp_path: Path, clock: Clock, victim: Path
) -> None:
    """In a file whose tables hold to nothing: shown, taken out, erased and swept."""
    job, photo_id = hostile
    with pytest.raises(NotFound):
        desk_photos.show(store, photo_id)
    with pytest.raises(NotFound):
        signature(tmp_path, "../victim")
    customer_id = int(store.value("SELECT customer_id FROM tickets WHERE id = ?", job.ticket_id))
    assert json.loads(export_and_import.customer_json(store, customer_id))["files"] == {}
    desk_photos.erase(store, Act(clock.now), photo_id)
    erased_list.note(tmp_path, erased_list.Erased(9, "", "", ("photos/../victim", "photos/..")))
    for line in erased_list.noted(tmp_path):
        pictures.remove(tmp_path, list(line.files))
    assert victim.read_text() == "mine"


@pytest.mark.parametrize("name", LEADS_AWAY)
def test_the_file_itself_takes_no_such_name(
    store: Store, clock: Clock, tmp_path: Path, name: str
) -> None:
    job = make_job(store, Act(clock.now), "Ada")
    taken = {**PHOTO, "taken_at": "2026-03-17T14:00:00Z"}
    store.db.execute("BEGIN IMMEDIATE")
    with pytest.raises(dbapi.IntegrityError):
        store.insert("photos", ticket_id=job.ticket_id, file=name, **taken)
    with pytest.raises(dbapi.IntegrityError):
        store.insert("consents", ticket_id=job.ticket_id, signature_file=name, **CONSENT)
    store.db.execute("ROLLBACK")
    with pytest.raises(NotFound):
        pictures.path_of(tmp_path, "photos", name)


def test_an_older_file_that_holds_such_a_name_loses_the_name_and_nothing_else(
    tmp_path: Path, clock: Clock
) -> None:
    old = Store(tmp_path / "shop.db")
    migrations.apply(old.db, stop_before="m0011_picture_names")
    job = make_job(old, Act(clock.now), "Ada")
    taken = {**PHOTO, "taken_at": "2026-03-17T14:00:00Z"}
    with old.write_tx():
        for file in ("../victim", "good.jpg"):
            old.insert("photos", ticket_id=job.ticket_id, file=file, **taken)
            old.insert("consents", ticket_id=job.ticket_id, signature_file=file, **CONSENT)
    old.close()
    store = open_store(tmp_path / "shop.db")
    assert [row["file"] for row in store.rows("SELECT file FROM photos ORDER BY id")] == [
        "none-1",
        "good.jpg",
    ]
    kept = store.rows("SELECT signature_file FROM consents ORDER BY id")
    assert [row["signature_file"] for row in kept] == ["", "good.jpg"]
    indexes = store.rows("SELECT name FROM sqlite_master WHERE type = 'index' AND sql IS NOT NULL")
    assert {"photos_item", "photos_ticket", "consents_ticket"} <= {row["name"] for row in indexes}
    store.close()
