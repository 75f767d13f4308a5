"""The shop is brought to a computer that stands by again and again, and stays nowhere else."""

from __future__ import annotations

from pathlib import Path

import pytest
from support.cast import Clock
from support.stand_by import as_fetched, files, second, there

from fitcounter.desk.data import stand_by_fetch, take_over
from fitcounter.desk.shop import Store
from fitcounter.errors import Conflict, NotFound

__all__ = ["second", "there"]


def test_a_picture_that_is_gone_there_goes_here(second: Path, there: Path, clock: Clock):
    picture = stand_by_fetch.copy_folder(second) / "photos" / "a.jpg"
    assert picture.read_bytes() == b"a"
    (there / "photos" / "a.jpg").unlink()
    stand_by_fetch.take(second, there, clock.on(minutes=5), as_fetched)
    assert not picture.exists()


def test_what_cannot_be_brought_leaves_what_is_there(second: Path, tmp_path: Path, clock: Clock):
    before = files(second)
    with pytest.raises(NotFound, match="No off-site copy"):
        stand_by_fetch.take(second, tmp_path / "nowhere", clock.on(minutes=5), as_fetched)
    assert files(second) == before
    stand_by_fetch.drop(second)
    assert list(second.iterdir()) == []


def test_it_does_not_stand_by_where_the_shop_is(store: Store, tmp_path: Path):
    with pytest.raises(Conflict, match="The shop is on this computer"):
        stand_by_fetch.check(tmp_path)
    take_over.write(tmp_path / take_over.LOST, take_over.Lease("another", "2026-03-17T14:00:00Z"))
    stand_by_fetch.check(tmp_path)
    take_over.won(tmp_path)
    assert stand_by_fetch.has_shop(tmp_path)
