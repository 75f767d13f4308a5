"""What the health page says of the last copy, and whether it lies on the shop's own disk."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta
from pathlib import Path
from typing import Any

import pytest
from support.cast import Clock

from fitcounter import how_far
from fitcounter.desk.data import copy_and_bring_back
from fitcounter.desk.data import nightly_copy_and_evening_sheet as nightly
from fitcounter.desk.health import copies
from fitcounter.desk.health.line import HealthLine
from fitcounter.desk.shop import Store, read
from fitcounter.store import backup, job_log
from fitcounter.store.database import utc_text
from fitcounter.store.job_log import Duty

EVENING = datetime(2026, 3, 17, 23, 0, tzinfo=UTC)  # an hour after closing in New York


def last(store: Store, data_dir: Path, now: datetime) -> HealthLine:
    return copies.last_copy(store, read(store), data_dir, job_log.read(data_dir), now)


def test_a_copy_that_is_being_made_is_told_with_how_far_it_is(
    store: Store, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
):
    real, seen = backup.make, []

    def make(*given: Any) -> backup.Copy:
        how_far.tell(backup.COPYING, 43, 100)
        seen.append(last(store, tmp_path, EVENING))
        return real(*given)

    monkeypatch.setattr(backup, "make", make)
    nightly.keep(tmp_path, None, EVENING)
    assert [(one.words, one.good) for one in seen] == [("being made now: 43%", True)]
    assert "checked and good" in last(store, tmp_path, EVENING).words


def test_a_new_shop_is_told_to_make_a_copy(store: Store, tmp_path: Path, clock: Clock):
    found = last(store, tmp_path, clock.now)
    assert "Run “fitcounter backup”" in found.todo
    assert found.words == "none yet"


def test_a_copy_that_is_older_than_a_day_and_a_half_or_went_wrong_is_told(
    store: Store, tmp_path: Path
):
    copy_and_bring_back.make_copy(tmp_path, None, EVENING)
    assert last(store, tmp_path, EVENING + timedelta(hours=36)).good
    assert not last(store, tmp_path, EVENING + timedelta(hours=37)).good
    job_log.write(tmp_path, {nightly.COPY: Duty(utc_text(EVENING), "", "The disk is full.")})
    assert "The disk is full." in last(store, tmp_path, EVENING).todo
