"""The off-site copy's folder: whose it is, which of its parts is newest, and what lies beside."""

from __future__ import annotations

import json
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest

from fitcounter.desk.data import off_site_copy
from fitcounter.errors import NotAllowed, NotFound
from fitcounter.store import erased_list, job_log
from fitcounter.store.database import Act, Store, Written
from fitcounter.store.erased_list import Erased

NOW = datetime(2026, 3, 17, 14, 0, tzinfo=UTC)


@pytest.fixture
def second(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return tmp_path_factory.mktemp("second")


@pytest.fixture
def data_dir(store: Store, tmp_path: Path) -> Path:
    """A shop that was set up: its log has a first row."""
    store.once(Act(NOW, 1), "begun", lambda: Written(row_id=1))
    return tmp_path


def test_a_folder_inside_the_shops_own_or_a_shop_that_is_not_there_is_refused(
    data_dir: Path, second: Path
) -> None:
    with pytest.raises(NotAllowed):
        off_site_copy.check(data_dir, data_dir / "second")
    with pytest.raises(NotFound):
        off_site_copy.check(data_dir / "nowhere", second)


def test_a_live_folder_says_whose_shop_it_is_and_the_newest_comes_first(
    data_dir: Path, second: Path
) -> None:
    first = off_site_copy.begin(data_dir, second, NOW)
    later = off_site_copy.begin(data_dir, second, NOW + timedelta(microseconds=1))
    assert off_site_copy.live_folders(second) == [later, first]
    marks = [json.loads((one / off_site_copy.MARK).read_text())["first"] for one in (first, later)]
    assert marks[0] == marks[1] != ""


def test_older_live_folders_stay_two_days_unless_somebody_was_erased(
    data_dir: Path, second: Path
) -> None:
    old, young, newest = (
        off_site_copy.begin(data_dir, second, NOW - lapse)
        for lapse in (timedelta(days=2, seconds=1), timedelta(days=1), timedelta())
    )
    off_site_copy.drop_others(second, newest, NOW, all_of_them=False)
    assert off_site_copy.live_folders(second) == [newest, young]
    assert not old.exists()
    off_site_copy.drop_others(second, newest, NOW, all_of_them=True)
    assert off_site_copy.live_folders(second) == [newest]


def test_a_fault_is_noted_beside_the_time_up_to_which_all_was_across(
    data_dir: Path, second: Path
) -> None:
    off_site_copy.note(data_dir, second, NOW)
    off_site_copy.note(data_dir, second, NOW + timedelta(minutes=1), "The disk is full.")
    (noted,) = job_log.read(data_dir, job_log.SECOND).values()
    assert (noted.done_at, noted.tried_at) == ("2026-03-17T14:00:00Z", "2026-03-17T14:01:00Z")
    assert (noted.fault, noted.made) == ("The disk is full.", str(second))


def test_only_the_newest_evening_sheet_lies_beside_and_who_was_erased_is_known_there(
    data_dir: Path, second: Path
) -> None:
    evenings = data_dir / job_log.EVENINGS
    evenings.mkdir()
    for day in ("16", "17"):
        (evenings / f"evening-2026-03-{day}.pdf").write_bytes(b"%PDF")
        off_site_copy.mirror(data_dir, second)
    assert [one.name for one in (second / job_log.EVENINGS).iterdir()] == ["evening-2026-03-17.pdf"]
    erased_list.note(data_dir, Erased(7, "2026-01-02T00:00:00Z", "2026-03-17T14:00:00Z", ()))
    assert off_site_copy.wants_sweep(data_dir, second)
    (data_dir / erased_list.UNSWEPT).unlink()
    assert off_site_copy.wants_sweep(data_dir, second)  # it is not on the list there yet
    off_site_copy.mirror(data_dir, second)
    assert not off_site_copy.wants_sweep(data_dir, second)


def test_one_process_follows_a_shop_at_a_time(data_dir: Path) -> None:
    with off_site_copy.only_one(data_dir) as first, off_site_copy.only_one(data_dir) as second:
        assert (first, second) == (True, False)


def test_a_folder_without_a_copy_brings_nothing_back(second: Path, tmp_path: Path) -> None:
    with pytest.raises(NotFound, match="No off-site copy"):
        off_site_copy.bring_back(second, tmp_path / "new", NOW, lambda live, file: None)
