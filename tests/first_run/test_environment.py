"""The set-up on a fresh machine, done for real in a small checkout: real interpreters, real
environments, real pip, no network.

The checkout has the program's own first files and, in place of its many packages, one wheel made
here and pinned by its hash. Searching PATH is cut off, so that nothing here can reach apt-get or
sudo; a note-taker stands in for them where they matter.
"""

from __future__ import annotations

import shutil
import subprocess
import sys
from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path

import pytest
from support.fresh_machine import BARE_PYTHON, FreshMachine, fresh_machine, wheel
from support.paths import CHECKOUT

from fitcounter.first_run import environment
from fitcounter.first_run.terminal_and_set_up_log import CANNOT_GO_ON


@dataclass(frozen=True)
class SetUp:
    machine: FreshMachine
    first: subprocess.CompletedProcess[str]


@pytest.fixture
def machine(tmp_path: Path) -> FreshMachine:
    """A fresh machine whose `certificate` command says which Python and which packages it has."""
    return fresh_machine(tmp_path)


@pytest.fixture(scope="module")
def set_up(tmp_path_factory: pytest.TempPathFactory) -> SetUp:
    """A machine after its first start, with what that said: made once, for tests that leave its
    environment as it is.

    VIRTUAL_ENV is left over from another project.
    """
    machine = fresh_machine(tmp_path_factory.mktemp("machine"))
    other = machine.home / "other"
    other.mkdir()
    return SetUp(machine, machine.run("certificate", "boots.local", VIRTUAL_ENV=str(other)))


def shown(run: subprocess.CompletedProcess[str]) -> str:
    return f"exit {run.returncode}\n{run.stdout}\n{run.stderr}"


def test_one_command_sets_everything_up_once(set_up: SetUp) -> None:
    """The first start makes .venv beside the checkout and goes on in it; the second start goes on
    at once.

    VIRTUAL_ENV, left over from another project, neither stops the set-up nor receives packages.
    """
    machine, first = set_up.machine, set_up.first
    assert first.returncode == 0, shown(first)
    assert list((machine.home / "other").iterdir()) == []
    assert f"{machine.checkout}/.venv supple" in first.stdout
    assert "Setting up fitcounter" in first.stderr

    second = machine.run("certificate", "boots.local")
    assert (second.stdout, second.stderr) == (first.stdout, "")


def test_the_whole_test_is_style_and_types_and_then_the_tests(set_up: SetUp) -> None:
    """`test` adds its own packages, once. Each of its four programs runs, also after one that
    fails; what mypy says is told apart from what the tests say, behind it; the exit code is that
    of the first that fails.
    """
    machine = set_up.machine

    good = machine.run("test")
    assert "Setting up fitcounter" not in good.stderr
    assert "Setting up the tests" in good.stderr
    lines = good.stdout.splitlines()
    assert (good.returncode, lines[:2]) == (0, ["ruff check .", "ruff format --check ."])
    assert len(lines) == 4
    assert lines[2].startswith("pytest -n ")
    assert lines[2].endswith("-m not slow")
    assert lines[3] == "mypy: mypy"

    for fails in ("ruff", "pytest", "mypy"):
        wrong = machine.run("test", FAILS=fails)
        assert (wrong.returncode, wrong.stdout, wrong.stderr) == (4, good.stdout, "")


def test_what_is_named_is_run_alone_and_a_room_several_files_at_a_time(set_up: SetUp) -> None:
    """On one core of two, the tests of a browser in a room took twice as long. Options go on to
    pytest; so does its exit code to whoever asked.
    """
    machine = set_up.machine
    machine.run("test")

    file = machine.run("test", "tests/one.py", "--", "-k", "key file", FAILS="pytest")
    assert (file.returncode, file.stdout) == (4, "pytest -m not slow tests/one.py -k key file\n")

    room = machine.run("test", "tests", "tests/one.py").stdout
    assert room.startswith("pytest -n ")
    assert room.endswith(" --dist loadfile --no-loadscope-reorder -m not slow tests tests/one.py\n")


def test_a_moved_checkout_is_set_up_again(set_up: SetUp, tmp_path: Path) -> None:
    """The folder may be moved: the environment, which knows its own place, is made anew there.

    Where there is no wheel of the newer SQLite, or of Litestream, the program says so and works.
    """
    assert set_up.first.returncode == 0
    moved = FreshMachine(tmp_path / "elsewhere", tmp_path / "home")
    shutil.copytree(set_up.machine.checkout, moved.checkout, symlinks=True)
    shutil.copytree(set_up.machine.home, moved.home)
    for file in (*moved.home.glob("linen*"), *moved.home.glob("waxed*")):
        file.unlink()

    run = moved.run("certificate", "boots.local", **moved.with_pip_outside())

    assert run.returncode == 0, shown(run)
    assert f"{moved.checkout}/.venv supple" in run.stdout
    assert "No newer SQLite" in run.stderr
    assert "No Litestream" in run.stderr


def test_what_is_not_as_pinned_is_refused_and_the_next_start_begins_again(
    machine: FreshMachine,
) -> None:
    """A wheel with another hash is not installed, no stamp is left, and once the pins are right the
    set-up goes through.

    Only the pins are installed, though a package names another with an extra and a range: older
    pips take the newest for that, and refuse it.
    """
    pins = machine.checkout / "fitcounter" / "requirements.txt"
    right = pins.read_text(encoding="utf-8")
    pins.write_text(right.replace("sha256:", "sha256:0000")[:-5] + "\n", encoding="utf-8")

    light = machine.with_pip_outside()
    refused = machine.run("certificate", "boots.local", **light)
    assert refused.returncode == CANNOT_GO_ON
    assert "The packages could not be fetched" in refused.stderr
    assert list((machine.checkout / ".venv").glob("stamp-*")) == []

    thread = wheel(machine.home, "thread", "", asks="Provides-Extra: waxing\n")
    wheel(machine.home, "thread", "", version="1.1", asks="Provides-Extra: waxing\n")
    leather = wheel(
        machine.home, "leather", "WORD = 'sewn'", asks="Requires-Dist: thread[waxing]>=1.0\n"
    )
    pins.write_text(thread + leather, encoding="utf-8")

    run = machine.run("certificate", "boots.local", **light)

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

    place = environment.place(tmp_path, {})
    monkeypatch.setattr(environment, "run", killed)
    with pytest.raises(KeyboardInterrupt):
        environment.make(place)
    assert environment.place(tmp_path, {}) == place

    monkeypatch.undo()
    # without a pip of its own, which took most of the making
    monkeypatch.setattr(environment, "has_module", lambda name: name != "ensurepip")
    environment.make(place)
    assert not (place / "half").exists()
    assert (place / "bin" / "python").exists()


def test_inside_somebody_elses_environment_it_says_the_line_to_type(machine: FreshMachine) -> None:
    """In a virtual environment that is not ours nothing is installed; the sentence has the line
    that would.
    """
    other = machine.home / "other"
    subprocess.run([BARE_PYTHON, "-m", "venv", "--without-pip", str(other)], check=True)

    run = machine.run("certificate", "boots.local", python=str(other / "bin" / "python"))

    assert run.returncode == CANNOT_GO_ON
    assert "lacks flask" in run.stderr
    assert (
        "-m pip install --no-deps --require-hashes -r"
        f" '{machine.checkout}/fitcounter/requirements.txt'" in run.stderr
    )
    assert not (machine.checkout / ".venv").exists()


def test_a_checkout_never_changes_the_environment_of_another(set_up: SetUp) -> None:
    """Neither when it is started by that one's Python nor when its .venv is a link to it."""
    machine = set_up.machine
    assert set_up.first.returncode == 0
    theirs = machine.checkout / ".venv"
    second = FreshMachine(machine.home.parent / "second", machine.home)
    shutil.copytree(machine.checkout, second.checkout, ignore=shutil.ignore_patterns(".venv"))
    with (second.checkout / "pyproject.toml").open("a", encoding="utf-8") as file:
        file.write("\n# other pins\n")

    def as_it_is() -> dict[Path, int]:
        files = (path for path in theirs.rglob("*") if "__pycache__" not in path.parts)
        return {path: path.lstat().st_mtime_ns for path in files}

    before = as_it_is()
    second.run("certificate", "boots.local", python=str(theirs / "bin" / "python"))
    assert as_it_is() == before
    (second.checkout / ".venv").symlink_to(theirs)
    linked = second.checkout / ".venv" / "bin" / "python"
    second.run("certificate", "boots.local", python=str(linked))
    assert as_it_is() == before
    run = second.run("certificate", "boots.local", **second.with_pip_outside())
    assert as_it_is() == before
    assert "venv-" in run.stdout, shown(run)


def test_without_venv_ensurepip_and_pip_it_says_what_to_install(machine: FreshMachine) -> None:
    """On a Debian with bare python3 and no way to apt-get the exact line is printed, and nothing is
    left half-made.
    """
    run = machine.run("certificate", "boots.local", **machine.without("venv", "ensurepip", "pip"))

    assert run.returncode == CANNOT_GO_ON, shown(run)
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
    assert environment.place(tmp_path, environ) == tmp_path / ".venv"

    (tmp_path / ".venv").mkdir()
    assert environment.place(tmp_path, environ).parent == elsewhere

    (tmp_path / ".venv" / environment.MARK).touch()
    assert environment.place(tmp_path, environ) == tmp_path / ".venv"

    # root may write wherever the file system lets it, so the answer of a read-only one is played
    monkeypatch.setattr(environment.os, "access", lambda path, mode: False)
    assert environment.place(tmp_path / "fresh", environ).parent == elsewhere


def test_the_first_files_import_nothing_but_the_standard_library() -> None:
    """What runs before the set-up can run on a Python that has no packages at all."""
    run = subprocess.run(
        [BARE_PYTHON, "-S", "-c", "import fitcounter.__main__"],
        cwd=CHECKOUT,
        capture_output=True,
        text=True,
    )

    assert (run.returncode, run.stderr) == (0, "")
