"""The measurements of tests/bench start as they stand, and leave nothing running."""

from __future__ import annotations

import os
import signal
import subprocess
import sys
import time
from collections.abc import Callable
from pathlib import Path

import pytest
from support.followed_shop import FOLLOWS
from support.paths import CHECKOUT, TESTS

COMMANDS = sorted(
    path for path in (TESTS / "bench").glob("*.py") if "__main__" in path.read_text("utf-8")
)
# Each is run up to `if __name__ == "__main__"`, with the paths that Python gives it, and has to
# find each folder of ours by itself: only the libraries and what is inside of the folders are
# loaded once for all.
START = """
import runpy, sys
from importlib.machinery import ModuleSpec
paths, ours = sys.path[1:], ("checkout_path", "support", "system", "browser", "fitcounter")
loaded = {}
class Inside:
    def find_spec(self, name, path, target=None):
        return ModuleSpec(name, self) if "." in name and name in loaded else None
    def create_module(self, spec):
        return loaded[spec.name]
    def exec_module(self, module):
        pass
sys.meta_path.insert(0, Inside())
for command in sys.argv[1:]:
    sys.path[:] = [command.rpartition("/")[0], *paths]
    for name in [name for name in sys.modules if name.split(".")[0] in ours]:
        loaded[name] = sys.modules.pop(name)
    runpy.run_path(command, run_name="started")
    print(command)
"""
PROC = Path("/proc")


def plain_environment(**more: str) -> dict[str, str]:
    return {name: value for name, value in os.environ.items() if name != "PYTHONPATH"} | more


def test_each_measurement_finds_all_it_needs_by_itself(tmp_path: Path) -> None:
    """Called in another folder, with no PYTHONPATH."""
    run = subprocess.run(
        [sys.executable, "-c", START, *map(str, COMMANDS)],
        cwd=tmp_path,
        env=plain_environment(),
        capture_output=True,
        text=True,
    )

    assert run.stderr == ""
    assert run.stdout.split() == [str(command) for command in COMMANDS]


def test_the_shortest_measurement_runs_to_its_end() -> None:
    """Three benches against the exact optimum: no rule broken, each proven, none below it."""
    run = subprocess.run(
        [sys.executable, "tests/bench/plan_optimum.py", "3"],
        cwd=CHECKOUT,
        env=plain_environment(),
        capture_output=True,
        text=True,
    )

    first = "3 benches of at most 6 boots and 3 trees, no rule broken, 3 optima proven"
    assert run.stdout.startswith(first)
    assert "below it (must be 0): 0" in run.stdout


def running(folder: Path) -> list[str]:
    """The command lines of the processes that have to do with a folder."""
    lines = []
    for process in PROC.glob("[0-9]*"):
        try:
            line = (process / "cmdline").read_text(errors="replace").replace("\0", " ")
        except OSError:
            continue
        if str(folder) in line:
            lines.append(line)
    return lines


def wait_until(seen: Callable[[], bool], what: str) -> None:
    end = time.monotonic() + 60
    while not seen():
        assert time.monotonic() < end, what
        time.sleep(0.1)


@pytest.mark.parametrize("ending", [signal.SIGTERM, signal.SIGKILL])
@pytest.mark.skipif(not FOLLOWS, reason="no Litestream that can follow on this machine")
@pytest.mark.skipif(not PROC.exists(), reason="only Linux lists its processes there")
def test_the_loss_window_ended_early_leaves_no_replicator(
    tmp_path: Path, ending: signal.Signals
) -> None:
    """Neither it nor Litestream nor the server, though it was killed before it could clear up."""
    measurement = subprocess.Popen(
        [sys.executable, str(TESTS / "bench" / "loss_window.py"), "9"],
        env=plain_environment(TMPDIR=str(tmp_path)),
        stdout=subprocess.DEVNULL,
        stderr=subprocess.DEVNULL,
    )
    wait_until(lambda: any("litestream" in line for line in running(tmp_path)), "it never began")

    measurement.send_signal(ending)

    assert measurement.wait(60) != 0
    wait_until(lambda: running(tmp_path) == [], "something of it still runs")
