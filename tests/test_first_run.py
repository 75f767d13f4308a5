"""The set-up on a fresh machine, done for real in a small checkout: real interpreters, real
environments, real pip, no network.

The checkout has the program's own first files and, in place of its many packages, one wheel made
here and pinned by its hash. Searching PATH is cut off, so that nothing here can reach apt-get or
sudo; a note-taker stands in for them where they matter.
"""

from __future__ import annotations

import io
import shutil
import subprocess
import sys
from collections.abc import Mapping
from pathlib import Path

import pytest
from support.fresh_machine import BARE_PYTHON, FreshMachine, wheel
from support.paths import CHECKOUT

from fitcounter import first_run


@pytest.fixture
def machine(tmp_path: Path) -> FreshMachine:
    """A fresh machine whose `certificate` command says which Python and which packages it has."""
    checkout, home = tmp_path / "my checkout", tmp_path / "home"
    serving = checkout / "fitcounter" / "serving"
    for folder in (serving, checkout / "tests", home):
        folder.mkdir(parents=True)
    for file in (CHECKOUT / "fitcounter").glob("*.py"):
        shutil.copy(file, checkout / "fitcounter")
    shutil.copytree(CHECKOUT / "fitcounter" / "cli", checkout / "fitcounter" / "cli")
    shutil.copy(CHECKOUT / "pyproject.toml", checkout)
    says = (
        "import sys, leather\ndef make(*rest): print(sys.prefix, leather.WORD)\ndef"
        " describe(*rest): return ''\n"
    )
    (serving / "certificate.py").write_text(says, encoding="utf-8")
    (serving / "server.py").write_text("", encoding="utf-8")
    (serving / "__init__.py").write_text("", encoding="utf-8")
    (checkout / "fitcounter" / "requirements.txt").write_text(
        wheel(home, "leather", "WORD = 'supple'"), encoding="utf-8"
    )
    (checkout / "fitcounter" / "requirements-sqlite.txt").write_text(
        wheel(home, "linen", ""), encoding="utf-8"
    )
    (checkout / "fitcounter" / "requirements-replica.txt").write_text(
        wheel(home, "waxed", ""), encoding="utf-8"
    )
    # The stand-in for pytest says that the tests' own level has been set up too.
    (checkout / "tests" / "requirements.txt").write_text(
        wheel(home, "pytest", "import leather\nprint('tested')"), encoding="utf-8"
    )
    return FreshMachine(checkout, home)


# Debian's python3 without python3-venv and python3-pip, for any Python: those modules are not
# there.
HIDE = """
import importlib.util
find = importlib.util.find_spec
HIDDEN = ("venv", "ensurepip", "pip")
importlib.util.find_spec = (
    lambda name, package=None: None if name in HIDDEN else find(name, package)
)
"""


def shown(run: subprocess.CompletedProcess[str]) -> str:
    return f"exit {run.returncode}\n{run.stdout}\n{run.stderr}"


def test_one_command_sets_everything_up_once(machine: FreshMachine) -> None:
    """The first start makes .venv beside the checkout and goes on in it; the second start goes on
    at once; `test` adds its own.

    VIRTUAL_ENV, left over from another project, neither stops the set-up nor receives packages.
    """
    other = machine.home / "other"
    other.mkdir()
    first = machine.run("certificate", "boots.local", VIRTUAL_ENV=str(other))
    assert first.returncode == 0, shown(first)
    assert list(other.iterdir()) == []
    assert f"{machine.checkout}/.venv supple" in first.stdout
    assert "Setting up fitcounter" in first.stderr

    second = machine.run("certificate", "boots.local")
    assert (second.stdout, second.stderr) == (first.stdout, "")

    third = machine.run("test")
    assert third.returncode == 0, shown(third)
    assert "tested" in third.stdout
    assert "Setting up the tests" in third.stderr


def test_a_moved_checkout_is_set_up_again(machine: FreshMachine) -> None:
    """The folder may be moved: the environment, which knows its own place, is made anew there.

    Where there is no wheel of the newer SQLite, or of Litestream, the program says so and works.
    """
    for file in (*machine.home.glob("linen*"), *machine.home.glob("waxed*")):
        file.unlink()
    said = machine.run("certificate", "boots.local").stderr
    assert "no newer SQLite" in said
    assert "no Litestream" in said
    moved = FreshMachine(machine.checkout.rename(machine.home.parent / "elsewhere"), machine.home)

    run = moved.run("certificate", "boots.local")

    assert run.returncode == 0, shown(run)
    assert f"{moved.checkout}/.venv supple" in run.stdout


def test_a_package_that_is_not_the_pinned_one_is_refused_and_the_next_start_begins_again(
    machine: FreshMachine,
) -> None:
    """A wheel with another hash is not installed, no stamp is left, and once it is right the set-up
    goes through.
    """
    pins = machine.checkout / "fitcounter" / "requirements.txt"
    right = pins.read_text(encoding="utf-8")
    pins.write_text(right.replace("sha256:", "sha256:0000")[:-5] + "\n", encoding="utf-8")

    refused = machine.run("certificate", "boots.local")
    assert refused.returncode == first_run.CANNOT_GO_ON
    assert "The packages could not be fetched" in refused.stderr
    assert list((machine.checkout / ".venv").glob("stamp-*")) == []

    pins.write_text(right, encoding="utf-8")
    assert machine.run("certificate", "boots.local").returncode == 0


def test_a_newer_release_of_what_a_package_asks_for_changes_nothing(machine: FreshMachine) -> None:
    """Only the pins are installed, though a package names another with an extra and a range: older
    pips take the newest for that, and refuse it.
    """
    thread = wheel(machine.home, "thread", "", asks="Provides-Extra: waxing\n")
    wheel(machine.home, "thread", "", version="1.1", asks="Provides-Extra: waxing\n")
    leather = wheel(
        machine.home, "leather", "WORD = 'sewn'", asks="Requires-Dist: thread[waxing]>=1.0\n"
    )
    (machine.checkout / "fitcounter" / "requirements.txt").write_text(
        thread + leather, encoding="utf-8"
    )

    run = machine.run("certificate", "boots.local")

    assert run.returncode == 0, shown(run)
    assert "sewn" in run.stdout
    assert [
        found.name for found in machine.checkout.glob(".venv/lib/*/site-packages/thread-*")
    ] == ["thread-1.0.dist-info"]


def test_a_set_up_broken_off_half_way_begins_again_in_the_same_place(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Killed while the environment is being made, the half of it is known as ours, and the next
    start clears it away.
    """

    def killed(line: list[str], sentence: str) -> None:
        (tmp_path / ".venv" / "half").touch()
        raise KeyboardInterrupt

    environment = first_run.place(tmp_path, {})
    monkeypatch.setattr(first_run, "run", killed)
    with pytest.raises(KeyboardInterrupt):
        first_run.make(environment)
    assert first_run.place(tmp_path, {}) == environment

    monkeypatch.undo()
    first_run.make(environment)
    assert not (environment / "half").exists()
    assert (environment / "bin" / "python").exists()


def test_inside_somebody_elses_environment_it_says_the_line_to_type(machine: FreshMachine) -> None:
    """In a virtual environment that is not ours nothing is installed; the sentence has the line
    that would.
    """
    other = machine.home / "other"
    subprocess.run([BARE_PYTHON, "-m", "venv", "--without-pip", str(other)], check=True)

    run = machine.run("certificate", "boots.local", python=str(other / "bin" / "python"))

    assert run.returncode == first_run.CANNOT_GO_ON
    assert "lacks flask" in run.stderr
    assert (
        "-m pip install --no-deps --require-hashes -r"
        f" '{machine.checkout}/fitcounter/requirements.txt'" in run.stderr
    )
    assert not (machine.checkout / ".venv").exists()


def test_without_venv_ensurepip_and_pip_it_says_what_to_install(machine: FreshMachine) -> None:
    """On a Debian with bare python3 and no way to apt-get the exact line is printed, and nothing is
    left half-made.
    """
    blind = machine.home / "sitecustomize.py"
    blind.write_text(HIDE, encoding="utf-8")

    run = machine.run("certificate", "boots.local", PYTHONPATH=str(machine.home))

    assert run.returncode == first_run.CANNOT_GO_ON, shown(run)
    assert (
        "apt-get update && apt-get install -y --no-install-recommends"
        f" python3.{sys.version_info[1]}-venv" in run.stderr
    )
    assert "Traceback" not in run.stderr
    assert not (machine.checkout / ".venv").exists()


def test_help_and_assess_need_no_set_up(machine: FreshMachine) -> None:
    """What the standard library alone can do is done at once, on any machine."""
    assert machine.run("--help").returncode == 0
    assert machine.run("demo", "--help").returncode == 0
    shutil.copytree(CHECKOUT / "fitcounter" / "fit", machine.checkout / "fitcounter" / "fit")
    assert machine.run("assess", "no-such-file.json").stderr.startswith(
        "no-such-file.json cannot be read"
    )
    assert not (machine.checkout / ".venv").exists()


def test_a_read_only_checkout_is_set_up_in_the_users_own_data_folder(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """.venv goes beside the checkout unless that cannot be written or holds somebody else's
    environment.
    """
    elsewhere = tmp_path / "data" / "fitcounter"
    environ: Mapping[str, str] = {"XDG_DATA_HOME": str(tmp_path / "data")}
    assert first_run.place(tmp_path, environ) == tmp_path / ".venv"

    (tmp_path / ".venv").mkdir()
    assert first_run.place(tmp_path, environ).parent == elsewhere

    (tmp_path / ".venv" / first_run.MARK).touch()
    assert first_run.place(tmp_path, environ) == tmp_path / ".venv"

    # root may write wherever the file system lets it, so the answer of a read-only one is played
    monkeypatch.setattr(first_run.os, "access", lambda path, mode: False)
    assert first_run.place(tmp_path / "fresh", environ).parent == elsewhere


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
    monkeypatch.setattr(first_run.os, "geteuid", lambda: 0)
    monkeypatch.setattr(
        first_run,
        "missing_packages",
        lambda level: [(["python3.11-venv"], "A."), (["libpango-1.0-0"], "B.")],
    )
    first_run.renew_package_lists.cache_clear()

    first_run.fetch_system_packages(first_run.RUN)

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
    monkeypatch.setattr(first_run.os, "geteuid", lambda: 1000)
    monkeypatch.setattr(first_run.sys, "stdin", io.StringIO())

    assert first_run.way_to_root() == way


def test_a_plain_user_is_told_the_line_and_goes_on(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    """Without root the missing libraries cost the PDFs only, and the line that brings them is
    printed.
    """
    monkeypatch.setenv("PATH", str(tmp_path))
    monkeypatch.setattr(first_run.os, "geteuid", lambda: 1000)
    monkeypatch.setattr(first_run, "can_open", lambda library: library != "libharfbuzz-subset.so.0")

    first_run.fetch_system_packages(first_run.RUN)

    line = "apt-get update && apt-get install -y --no-install-recommends libharfbuzz-subset0"
    assert line in capsys.readouterr().err


def test_the_tests_need_a_browser_and_what_drives_it(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """On a machine without both, both are asked for; with both, nothing."""
    monkeypatch.setenv("PATH", str(tmp_path))
    monkeypatch.setattr(first_run, "can_open", lambda library: False)
    assert [packages for packages, _ in first_run.missing_packages(first_run.TEST)] == [
        ["chromium", "libatomic1"]
    ]

    note_taker(tmp_path, "chromium", 0)
    monkeypatch.setattr(first_run, "can_open", lambda library: True)
    assert first_run.missing_packages(first_run.TEST) == []


def test_the_first_files_import_nothing_but_the_standard_library() -> None:
    """What runs before the set-up can run on a Python that has no packages at all."""
    run = subprocess.run(
        [BARE_PYTHON, "-S", "-c", "import fitcounter.__main__"],
        cwd=CHECKOUT,
        capture_output=True,
        text=True,
    )

    assert (run.returncode, run.stderr) == (0, "")
