"""`test FILE`: what is run, and with what exit code it ends. What `test` alone runs is tested where
a checkout has been set up: tests/first_run/test_environment.py.
"""

from __future__ import annotations

import pytest
from support.command import run


def test_test_passes_what_it_is_given_on_to_pytest() -> None:
    """`fitcounter test FILE -- OPTIONS` runs that file, and its exit code is pytest's."""
    good = run("test", "tests/test_settings.py", "--", "-k", "key_file", "-p", "no:randomly")
    assert good.returncode == 0, good.stdout
    assert "6 passed" in good.stdout

    assert run("test", "tests/no_such_file.py").returncode == pytest.ExitCode.USAGE_ERROR
