"""Photos beside the shop's file: written whole or not at all, and gone when no row names them."""

from __future__ import annotations

import os
from datetime import timedelta
from pathlib import Path

import pytest
from support.bench_cast import Pair, pair
from support.cast import Clock, Counter
from support.counter_forms import fresh
from support.pictures import picture
from support.sent_photo import kept, send

from fitcounter.desk.data import erasure
from fitcounter.desk.front_desk import photos
from fitcounter.errors import NoRoom
from fitcounter.store.database import Act, Store


@pytest.fixture
def boots(store: Store, clock: Clock) -> Pair:
    return pair(store, Act(clock.now))


def test_a_photo_that_cannot_be_written_leaves_neither_row_nor_file(
    store: Store, clock: Clock, boots: Pair, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The disk gives up in the middle of the file, or the row is refused after it: nothing half
    stays.
    """

    def full(_: int) -> None:
        raise OSError(28, "No space left on device")

    with monkeypatch.context() as patched:
        patched.setattr(os, "fsync", full)
        shot = photos.Shot("before", picture(), clock.now)
        with pytest.raises(NoRoom):
            photos.keep_of_item(store, Act(clock.now), boots.left, shot)
    assert kept(store, tmp_path) == []
    with store.write_tx():
        store.db.execute(
            "CREATE TRIGGER no_photo BEFORE INSERT ON photos BEGIN SELECT RAISE(ABORT,"
            " 'UNIQUE'); END"
        )
    shot = photos.Shot("before", picture(), clock.now)
    with pytest.raises(Exception, match="moment ago"):
        photos.keep_of_item(store, Act(clock.now), boots.left, shot)
    assert kept(store, tmp_path) == []


def test_an_erased_photo_is_gone_from_the_disk(
    owner: Counter, boots: Pair, store: Store, tmp_path: Path
) -> None:
    send(owner, f"/items/{boots.left}/photos", picture())
    owner.get(f"/tickets/{boots.ticket_id}")
    assert owner.post("/photos/1/erase", submission_id=fresh()).status_code == 303
    assert owner.get("/photos/1").status_code == 404
    assert kept(store, tmp_path) == []


def test_a_picture_without_a_row_goes_at_night_when_it_is_old(
    store: Store, boots: Pair, clock: Clock, tmp_path: Path
) -> None:
    """As a power cut between the file and its row would leave it.

    A young one may belong to a file that a restore moved aside.
    """
    shot = photos.Shot("before", picture(), clock.now)
    photos.keep_of_item(store, Act(clock.now), boots.left, shot)
    (tmp_path / "signatures").mkdir()
    strays = [
        tmp_path / name
        for name in (
            "photos/left-over.jpg",
            "photos/cut.half",
            "signatures/1-left-over.png",
            "photos/young.jpg",
        )
    ]
    old, young = (clock.now - timedelta(days=days) for days in (36, 34))
    for path, at in zip(
        [*(tmp_path / "photos").iterdir(), *strays], [old] * 4 + [young], strict=True
    ):
        path.touch()
        os.utime(path, (at.timestamp(), at.timestamp()))
    erasure.tidy(store, tmp_path, tmp_path / "copies", clock.now)
    assert [path.exists() for path in strays] == [False, False, False, True]
    assert len(list((tmp_path / "photos").iterdir())) == 2
