"""Which computer the shop is on: the one that another took over from serves no more."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest

from fitcounter.desk.data import off_site_settings, off_site_setup, take_over
from fitcounter.desk.data.off_site_settings import FOLDER, OffSite
from fitcounter.errors import Conflict

NOW = datetime(2026, 3, 17, 14, 0, tzinfo=UTC)


@pytest.fixture
def computers(tmp_path: Path) -> tuple[Path, Path, Path]:
    """The old one, the new one, and the off-site copy that both reach."""
    old, new, there = tmp_path / "old", tmp_path / "new", tmp_path / "there"
    for folder in (old, new, there):
        folder.mkdir()
    off_site_settings.keep(
        old, off_site_settings.draft(old, OffSite(kind=FOLDER, folder=str(there)))
    )
    return old, new, there


def test_the_computer_before_refuses_to_serve_when_it_comes_back(
    computers: tuple[Path, Path, Path],
):
    old, new, there = computers
    off_site_setup.still_here(old)
    take_over.write(there / take_over.FILE, take_over.ours(old, NOW))
    off_site_setup.still_here(old)
    take_over.write(there / take_over.FILE, take_over.ours(new, NOW + timedelta(days=1)))
    with pytest.raises(Conflict, match="took this shop over on 2026-03-18"):
        off_site_setup.still_here(old)
    (there / take_over.FILE).unlink()  # known here, even where the place is out of reach
    with pytest.raises(Conflict, match="fitcounter take-over"):
        off_site_setup.still_here(old)
    take_over.won(old)
    off_site_setup.still_here(old)


def test_a_note_that_cannot_be_read_stops_nobody(computers: tuple[Path, Path, Path]):
    old, _, there = computers
    (there / take_over.FILE).write_bytes(b"\xff{")
    off_site_setup.still_here(old)
    assert take_over.ours(old, NOW).machine == take_over.ours(old, NOW).machine
    assert (old / take_over.MACHINE).stat().st_mode & 0o077 == 0
