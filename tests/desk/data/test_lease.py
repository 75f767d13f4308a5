"""Which computer the shop is on: the one that another took over from serves no more."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest

from fitcounter.desk.data import lease, off_site, off_site_setup
from fitcounter.desk.data.off_site import FOLDER, OffSite
from fitcounter.errors import Conflict

NOW = datetime(2026, 3, 17, 14, 0, tzinfo=UTC)


@pytest.fixture
def computers(tmp_path: Path) -> tuple[Path, Path, Path]:
    """The old one, the new one, and the off-site copy that both reach."""
    old, new, there = tmp_path / "old", tmp_path / "new", tmp_path / "there"
    for folder in (old, new, there):
        folder.mkdir()
    off_site.keep(old, off_site.draft(old, OffSite(kind=FOLDER, folder=str(there))))
    return old, new, there


def test_the_computer_before_refuses_to_serve_when_it_comes_back(
    computers: tuple[Path, Path, Path],
):
    old, new, there = computers
    off_site_setup.still_here(old)
    lease.write(there / lease.FILE, lease.ours(old, NOW))
    off_site_setup.still_here(old)
    lease.write(there / lease.FILE, lease.ours(new, NOW + timedelta(days=1)))
    with pytest.raises(Conflict, match="took this shop over on 2026-03-18"):
        off_site_setup.still_here(old)
    (there / lease.FILE).unlink()  # known here, even where the place is out of reach
    with pytest.raises(Conflict, match="fitcounter take-over"):
        off_site_setup.still_here(old)
    lease.won(old)
    off_site_setup.still_here(old)


def test_a_note_that_cannot_be_read_stops_nobody(computers: tuple[Path, Path, Path]):
    old, _, there = computers
    (there / lease.FILE).write_bytes(b"\xff{")
    off_site_setup.still_here(old)
    assert lease.ours(old, NOW).machine == lease.ours(old, NOW).machine
    assert (old / lease.MACHINE).stat().st_mode & 0o077 == 0
