"""`test`: style, types and tests, the same for people and for CI."""

from __future__ import annotations

import argparse
import os
import shutil
import subprocess
import sys
import tempfile
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from fitcounter.settings import PROGRAM

STYLE = (("ruff", "check", "."), ("ruff", "format", "--check", "."))
TYPES = ("mypy",)
MEMORY = Path("/dev/shm")  # of Linux: a folder that is on no disk
ROOM_BYTES = 2 * 1024**3  # many times what lies about: of tests/system and tests/store 118 MB


def test(given: argparse.Namespace) -> int:
    """Run style, types and all tests, several files of them at a time; or only the tests that are
    named: of a folder several files at a time too. The long forms run only when asked for, with:
    -- -m slow.

    Returns the first exit code that is not 0. The types are looked at while the tests run; what is
    wrong with them is said after the tests' summary.
    """
    # one worker more than cores, because a test that drives a browser or a program waits for it;
    # files in the order of tests/conftest.py
    workers = min(4, (os.cpu_count() or 1) + 1)
    together = ("-n", str(workers), "--dist", "loadfile", "--no-loadscope-reorder")
    with environment() as environ:

        def run(*program: str) -> int:
            line = [sys.executable, "-m", *program]
            return subprocess.run(line, cwd=PROGRAM, env=environ).returncode

        if given.what:
            shared = together if any((PROGRAM / one).is_dir() for one in given.what) else ()
            return run("pytest", *shared, "-m", "not slow", *given.what)
        codes = [run(*program) for program in STYLE]
        line = [sys.executable, "-m", *TYPES]
        with subprocess.Popen(line, cwd=PROGRAM, env=environ, stdout=subprocess.PIPE) as types:
            codes.append(run("pytest", *together, "-m", "not slow"))
            said = types.communicate()[0].decode()
        codes.append(types.returncode)
        print(f"{' '.join(TYPES)}: {said}", end="", flush=True)
    return next((code for code in codes if code), 0)


@contextmanager
def environment() -> Iterator[dict[str, str]]:
    """What the programs find in their environment: Python keeps what it compiled, whatever is set,
    because every worker and every program beside a test would compile it all anew; and the tests'
    files are in memory where there is room, because a saving waits for the disk, ten times a test.
    """
    environ = {
        name: value for name, value in os.environ.items() if name != "PYTHONDONTWRITEBYTECODE"
    }
    if not _has_room():
        yield environ
        return
    with tempfile.TemporaryDirectory(prefix="fitcounter-", dir=MEMORY) as folder:
        yield {**environ, "TMPDIR": folder}


def _has_room() -> bool:
    """Is there memory to be written to like a disk, which programs may be started from?"""
    return (
        os.access(MEMORY, os.W_OK)
        and not os.statvfs(MEMORY).f_flag & os.ST_NOEXEC
        and shutil.disk_usage(MEMORY).free >= ROOM_BYTES
    )
