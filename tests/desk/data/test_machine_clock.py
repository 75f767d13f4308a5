"""A clock that leaps ahead for one look deletes nothing, and restores no copy of a day that never
was.
"""

from __future__ import annotations

from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest
from support.cast import Clock, Counter
from support.ticket_rows import make_job

from fitcounter.desk.data import copy_and_bring_back, machine_clock
from fitcounter.desk.health import page as health
from fitcounter.desk.shop import Act, Store, Written
from fitcounter.store import backup, copies_kept
from fitcounter.store.database import utc_text

NOW = datetime(2026, 3, 17, 14, 0, tzinfo=UTC)
DAY = timedelta(days=1)


@pytest.fixture
def kept(store: Store, tmp_path: Path) -> Store:
    """Ten days of a shop with a photo, a begun form and a copy a day; its ticket was picked up."""
    job = make_job(store, Act(NOW))
    (tmp_path / "photos").mkdir()
    (tmp_path / "photos" / "a.jpg").write_bytes(b"picture")
    taken = {"width_px": 1, "height_px": 1, "bytes": 1, "content_hash": "", "moment": "before"}
    with store.write_tx():
        store.insert(
            "photos", ticket_id=job.ticket_id, file="a.jpg", taken_at=utc_text(NOW), **taken
        )
        store.insert(
            "drafts",
            id="d" * 16,
            kind="new",
            form="[]",
            words="",
            updated_at=utc_text(NOW + 9 * DAY),
        )
        store.change("tickets", job.ticket_id, state="closed", handed_over_at=utc_text(NOW))
    for n in range(10):
        copy_and_bring_back.copy_alone(tmp_path, None, NOW + n * DAY)
    return store


def what_is_kept(store: Store, data_dir: Path) -> tuple[int, int, int]:
    return (
        len(list((data_dir / "photos").iterdir())),
        int(store.value("SELECT count(*) FROM drafts")),
        len(backup.copies(data_dir / "copies")),
    )


@pytest.mark.parametrize("days", [3, 40, 100, 800])
def test_a_leap_of_the_clock_deletes_nothing_until_the_owner_has_said_that_it_is_right(
    kept: Store, tmp_path: Path, days: int
) -> None:
    """Nor do saves that are made by the wrong clock make it right, nor does its going back."""
    before = what_is_kept(kept, tmp_path)
    wrong = NOW + 9 * DAY + days * DAY
    copy_and_bring_back.copy_alone(tmp_path, None, wrong)
    kept.once(Act(wrong), "job", lambda: Written())
    copy_and_bring_back.copy_alone(tmp_path, None, wrong + DAY)
    assert what_is_kept(kept, tmp_path) == (before[0], before[1], before[2] + 2)
    copy_and_bring_back.copy_alone(tmp_path, None, NOW + 10 * DAY)
    assert what_is_kept(kept, tmp_path) == (before[0], before[1], before[2] + 3)


def test_what_is_old_goes_once_the_owner_has_said_that_the_clock_is_right(
    kept: Store, tmp_path: Path
) -> None:
    later = NOW + 100 * DAY
    machine_clock.confirm(kept, Act(later))
    copy_and_bring_back.copy_alone(tmp_path, None, later)
    assert what_is_kept(kept, tmp_path) == (0, 0, copies_kept.KEPT_ALWAYS)


def test_the_newest_copy_is_the_one_that_knows_most_and_not_the_one_of_a_wrong_clock(
    kept: Store, tmp_path: Path
) -> None:
    copy_and_bring_back.copy_alone(tmp_path, None, NOW + 800 * DAY)
    kept.once(Act(NOW + 10 * DAY), "a save", lambda: Written())
    right = copy_and_bring_back.copy_alone(tmp_path, None, NOW + 10 * DAY)
    assert copy_and_bring_back.newest(tmp_path, None) == right.path
    assert copy_and_bring_back.last_copy_at(kept) == utc_text(NOW + 10 * DAY)


def test_after_an_older_copy_was_brought_back_its_own_copies_are_the_newest(
    kept: Store, tmp_path: Path
) -> None:
    """Although the audit of what was given up is longer."""
    old = copy_and_bring_back.copy_alone(tmp_path, None, NOW + 10 * DAY)
    for n in range(5):
        kept.once(Act(NOW + 11 * DAY), f"given up {n}", lambda: Written())
    copy_and_bring_back.copy_alone(tmp_path, None, NOW + 11 * DAY)
    kept.close()
    copy_and_bring_back.bring_back(old.path, tmp_path, NOW + 12 * DAY)
    new = copy_and_bring_back.make_copy(tmp_path, None, NOW + 12 * DAY)
    assert copy_and_bring_back.newest(tmp_path, None) == new.path


def test_the_owner_says_it_on_the_health_page(
    store: Store, owner: Counter, bench: Counter, tmp_path: Path, clock: Clock
) -> None:
    clock.on(days=30)
    assert "clock" in {
        line.what.lower() for line in health.look(store, tmp_path, clock.now) if line.todo
    }
    clock_page = owner.get("/shop/health").text
    # signing in again was itself written by this clock: the leap stands in the audit all the same
    assert "The clock is right" in clock_page
    assert bench.post("/shop/health/clock").status_code == 403
    answer = owner.post("/shop/health/clock", submission_id="clock-is-right-1")
    assert answer.status_code == 303
    assert machine_clock.leap(store, clock.now) is None
    assert "The clock is right" not in owner.get("/shop/health").text
