"""`test FILE`: what it says once, and what the tests find in their environment. Which programs are
run, how, and with what exit code, is tested where a checkout has been set up:
tests/first_run/test_environment.py.
"""

from __future__ import annotations

import sys
from pathlib import Path

import pytest
from support.command import run

from fitcounter.cli import testing


def test_test_passes_what_it_is_given_on_to_pytest() -> None:
    """`fitcounter test FILE -- OPTIONS` runs that file, and its exit code is pytest's."""
    good = run("test", "tests/test_settings.py", "--", "-k", "key_file", "-p", "no:randomly")
    assert good.returncode == 0, good.stdout
    assert "6 passed" in good.stdout


def test_python_keeps_what_it_compiled_whatever_is_set(monkeypatch: pytest.MonkeyPatch) -> None:
    """Else every worker and every program beside a test compiles it all anew."""
    monkeypatch.setenv("PYTHONDONTWRITEBYTECODE", "1")
    monkeypatch.setenv("SHELL", "kept")
    with testing.environment() as environ:
        assert "PYTHONDONTWRITEBYTECODE" not in environ
        assert environ["SHELL"] == "kept"


@pytest.mark.skipif(sys.platform != "linux", reason="other systems have no such folder")
def test_the_tests_files_are_in_memory_where_there_is_room_and_gone_afterwards(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("TMPDIR", "elsewhere")
    monkeypatch.setattr(testing, "MEMORY", tmp_path)
    monkeypatch.setattr(testing, "ROOM_BYTES", 1)
    with testing.environment() as environ:
        folder = Path(environ["TMPDIR"])
        assert folder.parent == tmp_path
        (folder / "left behind").touch()
    assert not folder.exists()

    monkeypatch.setattr(testing, "ROOM_BYTES", 1024**6)
    with testing.environment() as environ:
        assert environ["TMPDIR"] == "elsewhere"
    monkeypatch.setattr(testing, "MEMORY", tmp_path / "no such folder")
    with testing.environment() as environ:
        assert environ["TMPDIR"] == "elsewhere"
