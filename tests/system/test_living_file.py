"""The shop's living file is opened by SQLite and by nothing else: closing any other descriptor of
it drops SQLite's locks, and saves that were answered are lost.

Each walk through a shop looks for it too: every form in tests/system/test_faults.py, every page in
tests/web/guards/test_access.py.
"""

from __future__ import annotations

from pathlib import Path

import pytest
from support.living_file import opened_otherwise
from support.whole_shop import WholeShop

from fitcounter.cli.main import COMMANDS, main
from fitcounter.store import byte_search
from fitcounter.store.opening import open_store

# These keep running, are no command on a shop's data, or leave the following to Litestream, a
# process of its own; take-over brings a shop to where none is.
NOT_HERE = {
    "demo",
    "serve",
    "service",
    "assess",
    "handbook",
    "certificate",
    "test",
    "replicate",
    "stand-by",
    "take-over",
}


def test_the_watch_sees_it(tmp_path: Path) -> None:
    """What the child process does when it looks through the files, done here."""
    open_store(tmp_path / "shop.db").close()
    with opened_otherwise() as seen:
        (tmp_path / "shop.db").read_bytes()
        assert seen == [], "this test's own reading is not the program's"
        byte_search.read_and_count([str(tmp_path / "shop.db")], [])
    assert len(seen) == 1
    assert "byte_search.py" in seen[0]


def test_no_command_opens_the_living_file_past_sqlite(
    played: Path, tmp_path: Path, whole: WholeShop, capsys: pytest.CaptureFixture[str]
) -> None:
    """Each command on a shop's data, while the shop has it open."""
    data = ["--data", str(tmp_path / "whole")]
    listed = tmp_path / "list.csv"
    listed.write_text("number,name,phone,what,where,promised\n912,Ann,555 010 0199,belt,A1,\n")
    taken = str(tmp_path / "taken.json")
    lines = [
        ["backup", *data],
        ["verify", *data],
        ["check", *data],
        ["export", taken, *data],
        ["import", taken, "--data", str(tmp_path / "new")],
        ["slips", str(listed), "--put-in", *data],
        ["restore", *data],
        ["take-over", "--from", str(tmp_path / "nowhere"), *data],
    ]
    with opened_otherwise() as seen:
        for line in lines:
            assert main(line) in (0, 1, 2), line
            assert "Traceback" not in capsys.readouterr().err
    assert {line[0] for line in lines} | NOT_HERE == set(COMMANDS)
    assert seen == []
