"""Copies of the shop and the way back: good, noted, and nobody comes back who was erased."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest
from support.ticket_rows import make_job

from fitcounter.desk.data import copy_and_bring_back
from fitcounter.errors import NotFound, Unavailable
from fitcounter.store import backup, tickets
from fitcounter.store.database import Act, Store
from fitcounter.store.opening import open_store

NOW = datetime(2026, 3, 17, 15, 0, tzinfo=UTC)


def test_a_copy_is_good_and_noted_in_the_shops_own_file(store: Store, tmp_path: Path) -> None:
    assert copy_and_bring_back.last_copy_at(store) is None
    copy = copy_and_bring_back.make_copy(tmp_path, None, NOW)
    assert copy.path.parent == tmp_path / copy_and_bring_back.COPIES
    assert copy_and_bring_back.newest(tmp_path, None) == copy.path
    assert copy_and_bring_back.last_copy_at(store) == copy.made_at
    assert copy.content_hash[:16] in copy_and_bring_back.proof(copy.path)


def test_where_there_is_no_shop_or_no_copy_it_is_said(tmp_path: Path) -> None:
    with pytest.raises(NotFound, match="no shop"):
        copy_and_bring_back.make_copy(tmp_path / "nowhere", None, NOW)
    with pytest.raises(NotFound, match="no copy"):
        copy_and_bring_back.newest(tmp_path, None)
    assert copy_and_bring_back.restored_at(tmp_path) == ""


def test_what_was_done_after_the_copy_is_gone_when_it_is_brought_back(
    store: Store, act: Act, tmp_path: Path
) -> None:
    kept = make_job(store, act)
    copy = copy_and_bring_back.make_copy(tmp_path, None, NOW)
    lost = make_job(store, act, "Tobias")
    given_up = copy_and_bring_back.make_copy(tmp_path, None, NOW + timedelta(minutes=30))
    store.close()
    said = copy_and_bring_back.bring_back(copy.path, tmp_path, NOW + timedelta(hours=1))
    assert said.startswith(f"Restored {copy.path.name}: 1 tickets")
    assert copy_and_bring_back.restored_at(tmp_path) == "2026-03-17T16:00:00Z"
    again = open_store(tmp_path / backup.SHOP)
    try:
        assert tickets.get(again, kept.ticket_id).id == kept.ticket_id
        with pytest.raises(NotFound):
            tickets.get(again, lost.ticket_id)
        later = copy_and_bring_back.make_copy(tmp_path, None, NOW + timedelta(hours=2))
    finally:
        again.close()
    assert (given_up.restores, later.restores) == (0, 1)
    assert copy_and_bring_back.newest(tmp_path, None) == later.path


def test_a_copy_that_was_changed_is_not_good(store: Store, tmp_path: Path) -> None:
    copy = copy_and_bring_back.make_copy(tmp_path, None, NOW)
    copy.path.chmod(0o600)
    with copy.path.open("r+b") as file:
        file.seek(4096)
        file.write(b"\x00" * 512)
    with pytest.raises(Unavailable, match="is not good"):
        copy_and_bring_back.proof(copy.path)


def test_a_file_that_is_up_to_date_needs_no_copy_before_renewal(
    store: Store, tmp_path: Path
) -> None:
    assert copy_and_bring_back.copy_before_renewal(tmp_path, None, NOW) == ""
    assert not (tmp_path / copy_and_bring_back.COPIES).exists()
