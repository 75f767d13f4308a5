"""`test`: which programs are run, and with what exit code it ends."""

from __future__ import annotations

from pathlib import Path

import pytest
from support.command import run
from support.fresh_machine import fresh_machine


def test_test_passes_what_it_is_given_on_to_pytest() -> None:
    """`fitcounter test FILE -- OPTIONS` runs that file, and its exit code is pytest's."""
    good = run("test", "tests/test_settings.py", "--", "-k", "key_file", "-p", "no:randomly")
    assert good.returncode == 0, good.stdout
    assert "6 passed" in good.stdout

    assert run("test", "tests/no_such_file.py").returncode == pytest.ExitCode.USAGE_ERROR


def test_the_whole_test_is_style_and_types_and_then_the_tests(tmp_path: Path) -> None:
    """Each of the four programs runs, also after one that fails; pytest last, so that its summary
    ends what is printed; the exit code is that of the first that fails.
    """
    machine = fresh_machine(tmp_path)

    good = machine.run("test")
    lines = good.stdout.splitlines()
    assert (good.returncode, lines[:3]) == (0, ["ruff check .", "ruff format --check .", "mypy"])
    assert len(lines) == 4
    assert lines[3].startswith("pytest -n ")
    assert lines[3].endswith("-m not slow")

    wrong = machine.run("test", FAILS="mypy")
    assert (wrong.returncode, wrong.stdout) == (1, good.stdout)
    assert machine.run("test", "tests/one.py").stdout == "pytest -m not slow tests/one.py\n"
