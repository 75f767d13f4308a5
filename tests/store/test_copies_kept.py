"""Which copies stay, and which go for their age."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta
from pathlib import Path

from fitcounter.store import backup, copies_kept
from fitcounter.store.database import utc_text
from fitcounter.store.opening import open_store

NOW = datetime(2026, 3, 17, 14, 0, tzinfo=UTC)
LATE = NOW.replace(hour=22)


def test_old_copies_go_so_that_what_was_erased_is_gone_from_them_too(tmp_path: Path) -> None:
    """But the newest seven stay, whatever the clock says."""
    open_store(tmp_path / "shop.db").close()
    made = [backup.make(tmp_path, tmp_path / "copies", NOW + timedelta(days=n)) for n in range(50)]
    copies_kept.expire(tmp_path / "copies", NOW + timedelta(days=49))
    assert {one.made_at for one in backup.copies(tmp_path / "copies")} == {
        one.made_at for one in made[14:]
    }
    copies_kept.expire(tmp_path / "copies", NOW + timedelta(days=4000))
    assert {one.made_at for one in backup.copies(tmp_path / "copies")} == {
        one.made_at for one in made[-7:]
    }


def test_of_days_that_are_past_the_last_copy_is_kept(tmp_path: Path) -> None:
    """Pickups make many copies a day; two days on, one a day is enough."""
    open_store(tmp_path / "shop.db").close()
    for hours in (0, 1, 2, 24, 25, *range(72, 79)):
        backup.make(tmp_path, tmp_path / "copies", LATE + timedelta(hours=hours))
    copies_kept.expire(tmp_path / "copies", LATE + timedelta(hours=78))
    kept = [one.made_at for one in backup.copies(tmp_path / "copies")]
    assert kept == [
        utc_text(LATE + timedelta(hours=hours)) for hours in (*range(78, 71, -1), 25, 1)
    ]
