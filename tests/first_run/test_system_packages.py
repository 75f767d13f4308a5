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


@pytest.fixture
def home(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.setenv("XDG_STATE_HOME", str(tmp_path / "state"))
    return tmp_path


def test_what_apt_get_says_goes_to_a_log_that_is_named_when_it_fails(
    home: Path, monkeypatch: pytest.MonkeyPatch, capfd: pytest.CaptureFixture[str]
) -> None:
    """Nothing of its noise is on the terminal."""
    note_taker(home, "apt-get", 1)
    (home / "apt-get").write_text("#!/bin/sh\necho noise\necho E: broken >&2\nexit 1\n", "utf-8")
    monkeypatch.setenv("PATH", f"{home}:/usr/bin:/bin")
    monkeypatch.setattr(system_packages.os, "geteuid", lambda: 0)
    monkeypatch.setattr(
        system_packages, "missing_packages", lambda level: [(["libpango-1.0-0"], "No PDFs.")]
    )
    system_packages.renew_package_lists.cache_clear()

    system_packages.fetch_system_packages(system_packages.RUN)

    out, err = capfd.readouterr()
    log = home / "state" / "fitcounter" / "set-up.log"
    assert out == ""
    assert err.splitlines() == [
        "Installing libpango-1.0-0 with apt-get.",
        f"apt-get could not install libpango-1.0-0. No PDFs. Details: {log}",
    ]
    assert {"noise", "E: broken"} <= set(log.read_text(encoding="utf-8").splitlines())


def test_without_the_virtual_environment_nothing_is_said_to_work(
    home: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    """One sentence and one line for all that is missing; it ends there."""
    monkeypatch.setenv("PATH", str(home))
    monkeypatch.setattr(system_packages.os, "geteuid", lambda: 1000)
    monkeypatch.setattr(system_packages, "has_module", lambda name: False)
    monkeypatch.setattr(system_packages, "can_open", lambda library: False)

    with pytest.raises(SystemExit):
        system_packages.fetch_system_packages(system_packages.RUN)

    said = capsys.readouterr().err
    package = system_packages.venv_package()
    assert said.startswith(f"Without {package}, fitcounter cannot be set up. To install it, type")
    assert "works" not in said
    assert said.count("apt-get install") == 1
    assert f"{package} libpango-1.0-0" in said


def test_the_tests_need_a_browser_and_what_drives_it(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """On a machine without both, both are asked for; with both, nothing. A Chromium with its window
    does, and its headless shell is asked for because it is faster.
    """
    monkeypatch.setenv("PATH", str(tmp_path))
    monkeypatch.setattr(system_packages, "can_open", lambda library: False)
    assert [packages for packages, _ in system_packages.missing_packages(system_packages.TEST)] == [
        ["chromium", "libatomic1"],
        ["chromium-headless-shell"],
    ]

    note_taker(tmp_path, "chromium", 0)
    monkeypatch.setattr(system_packages, "can_open", lambda library: True)
    ((packages, without),) = system_packages.missing_packages(system_packages.TEST)
    assert packages == ["chromium-headless-shell"]
    assert without.endswith("the browser tests take twice as long.")

    note_taker(tmp_path, "chromium-headless-shell", 0)
    assert system_packages.missing_packages(system_packages.TEST) == []
