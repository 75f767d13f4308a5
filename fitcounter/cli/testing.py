"""`test`: style, types and tests, the same for people and for CI."""

from __future__ import annotations

import argparse
import os
import subprocess
import sys

from fitcounter.settings import PROGRAM

STYLE_AND_TYPES = (("ruff", "check", "."), ("ruff", "format", "--check", "."), ("mypy",))


def test(given: argparse.Namespace) -> int:
    """Run style, types and all tests, several files of them at a time; or only the tests that are
    named. The long forms run only when asked for, with: -- -m slow.

    Returns the first exit code that is not 0. pytest comes last, so that its summary is the end of
    what is printed.
    """
    # one worker more than cores, because a test that drives a browser or a program waits for it;
    # files in the order of tests/conftest.py
    workers = min(4, (os.cpu_count() or 1) + 1)
    together = ("-n", str(workers), "--dist", "loadfile", "--no-loadscope-reorder")
    lines = [("pytest", *(() if given.what else together), "-m", "not slow", *given.what)]
    if not given.what:
        lines = [*STYLE_AND_TYPES, *lines]
    codes = [
        subprocess.run([sys.executable, "-m", *line], cwd=PROGRAM).returncode for line in lines
    ]
    return next((code for code in codes if code), 0)
