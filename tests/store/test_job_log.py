"""The log of what the machine does by itself, and the locks that keep it to one at a time."""

from __future__ import annotations

from pathlib import Path

import pytest

from fitcounter.store import job_log
from fitcounter.store.job_log import Duty

DONE = {"copy": Duty("2026-03-17T20:00:00Z", "2026-03-17T20:00:01Z", "", "shop-1.db")}


def test_what_was_written_is_read_again_and_only_the_shop_may_read_it(tmp_path: Path):
    job_log.write(tmp_path, DONE)
    assert job_log.read(tmp_path) == DONE
    assert (tmp_path / job_log.FILE).stat().st_mode & 0o077 == 0
    assert job_log.read(tmp_path, job_log.SECOND) == {}


@pytest.mark.parametrize("text", ["", "{", "[]", '{"copy": 3}', '{"copy": {"unknown": ""}}'])
def test_a_log_that_cannot_be_read_counts_as_nothing_done(tmp_path: Path, text: str):
    (tmp_path / job_log.FILE).write_text(text, encoding="utf-8")
    assert job_log.read(tmp_path) == {}


def test_a_log_half_written_leaves_the_old_one(tmp_path: Path):
    job_log.write(tmp_path, DONE)
    with pytest.raises(TypeError):
        job_log.write(tmp_path, {"copy": "no duty"})  # type: ignore[dict-item]
    assert job_log.read(tmp_path) == DONE


def test_one_at_a_time_makes_copies_and_the_other_hears_of_it_at_once(tmp_path: Path):
    with (
        job_log.alone(tmp_path, wait=False) as first,
        job_log.alone(tmp_path, wait=False) as second,
    ):
        assert (first, second) == (True, False)
    with job_log.alone(tmp_path, wait=False) as again:
        assert again


def test_a_shop_is_open_while_any_process_says_so(tmp_path: Path):
    assert not job_log.is_open(tmp_path)
    with job_log.while_open(tmp_path):
        with job_log.while_open(tmp_path):
            assert job_log.is_open(tmp_path)
        assert job_log.is_open(tmp_path)
    assert not job_log.is_open(tmp_path)


def test_a_shop_is_followed_only_while_somebody_holds_that_lock(tmp_path: Path):
    assert not job_log.is_followed(tmp_path)
    with job_log.alone(tmp_path, wait=False, name=job_log.FOLLOWED):
        assert job_log.is_followed(tmp_path)
    assert not job_log.is_followed(tmp_path)


def test_evening_sheets_go_and_nothing_else_in_their_folder(tmp_path: Path):
    folder = tmp_path / job_log.EVENINGS
    folder.mkdir()
    for name in ("evening-2026-03-17.pdf", "evening-2026-03-18.html", "notes.txt"):
        (folder / name).touch()
    job_log.drop_evenings(tmp_path)
    assert [path.name for path in folder.iterdir()] == ["notes.txt"]
