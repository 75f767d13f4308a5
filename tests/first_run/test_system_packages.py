"""What apt-get is asked for, by whom, and what is said where nobody may ask it.

A note-taker stands in for apt-get and sudo.
"""

from __future__ import annotations

import io
from pathlib import Path

import pytest

from fitcounter.first_run import system_packages


def note_taker(folder: Path, name: str, code: int) -> Path:
    """A stand-in for apt-get or sudo: notes how it was called, and ends with a code."""
    notes = folder / "notes"
    path = folder / name
    path.write_text(f'#!/bin/sh\necho "{name} $*" >> {notes}\nexit {code}\n', encoding="utf-8")
    path.chmod(0o755)
    return notes


def test_root_fetches_what_is_missing_by_apt_get(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """As root the missing Debian packages are fetched, group by group, the lists renewed once."""
    notes = note_taker(tmp_path, "apt-get", 0)
    monkeypatch.setenv("PATH", f"{tmp_path}:/usr/bin:/bin")
    monkeypatch.setattr(system_packages.os, "geteuid", lambda: 0)
    monkeypatch.setattr(
        system_packages,
        "missing_packages",
        lambda level: [(["python3.11-venv"], "A."), (["libpango-1.0-0"], "B.")],
    )
    system_packages.renew_package_lists.cache_clear()

    system_packages.fetch_system_packages(system_packages.RUN)

    install = "apt-get install -y --no-install-recommends -qq -o DPkg::Lock::Timeout=120 {}"
    expected = [
        "apt-get update -qq",
        install.format("python3.11-venv"),
        install.format("libpango-1.0-0"),
    ]
    assert notes.read_text(encoding="utf-8").splitlines() == expected


@pytest.mark.parametrize(("sudo_code", "way"), [(0, ["sudo", "-n"]), (1, None)])
def test_sudo_is_used_only_where_it_asks_nothing(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, sudo_code: int, way: list[str] | None
) -> None:
    """A plain user with no terminal gets root through sudo only when that needs no passphrase."""
    note_taker(tmp_path, "sudo", sudo_code)
    monkeypatch.setenv("PATH", str(tmp_path))
    monkeypatch.setattr(system_packages.os, "geteuid", lambda: 1000)
    monkeypatch.setattr(system_packages.sys, "stdin", io.StringIO())

    assert system_packages.way_to_root() == way


def test_a_plain_user_is_told_the_line_and_goes_on(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    """Without root the missing libraries cost the PDFs only, and the line that brings them is
    printed.
    """
    monkeypatch.setenv("PATH", str(tmp_path))
    monkeypatch.setattr(system_packages.os, "geteuid", lambda: 1000)
    monkeypatch.setattr(
        system_packages, "can_open", lambda library: library != "libharfbuzz-subset.so.0"
    )

    system_packages.fetch_system_packages(system_packages.RUN)

    line = "apt-get update && apt-get install -y --no-install-recommends libharfbuzz-subset0"
    assert line in capsys.readouterr().err


def test_the_tests_need_a_browser_and_what_drives_it(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """On a machine without both, both are asked for; with both, nothing."""
    monkeypatch.setenv("PATH", str(tmp_path))
    monkeypatch.setattr(system_packages, "can_open", lambda library: False)
    assert [packages for packages, _ in system_packages.missing_packages(system_packages.TEST)] == [
        ["chromium", "libatomic1"]
    ]

    note_taker(tmp_path, "chromium", 0)
    monkeypatch.setattr(system_packages, "can_open", lambda library: True)
    assert system_packages.missing_packages(system_packages.TEST) == []
