"""What is said of the off-site copy: its seconds, and what to do."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta
from pathlib import Path

from fitcounter.desk.data import off_site_copy as data_replica
from fitcounter.desk.data import off_site_settings
from fitcounter.desk.health import off_site

EVENING = datetime(2026, 3, 17, 23, 0, tzinfo=UTC)


def test_one_that_lags_or_failed_is_told_with_its_seconds(tmp_path: Path):
    data_replica.note(tmp_path, Path("/media/second"), EVENING)
    found = off_site.look(tmp_path, EVENING + timedelta(seconds=3), elsewhere=True)
    assert (found.words, found.good) == ("/media/second is 3 seconds behind", True)
    late = off_site.look(tmp_path, EVENING + timedelta(seconds=61), elsewhere=True)
    assert "plugged in?" in late.todo
    data_replica.note(tmp_path, Path("/media/second"), EVENING + timedelta(seconds=5), "No room.")
    found = off_site.look(tmp_path, EVENING + timedelta(seconds=5), elsewhere=True)
    assert found.words == "/media/second is 5 seconds behind"
    assert found.todo.startswith("No room.")


def test_one_that_never_came_across_is_told(tmp_path: Path):
    data_replica.note(tmp_path, Path("/media/second"), EVENING, "No room.")
    found = off_site.look(tmp_path, EVENING, elsewhere=True)
    assert (found.words, found.todo) == ("nothing has reached /media/second yet", "No room.")


def test_what_was_just_set_up_begins_and_is_not_called_none(tmp_path: Path):
    (tmp_path / off_site_settings.FILE).touch()
    assert off_site.look(tmp_path, EVENING, elsewhere=True).words == "begins"
