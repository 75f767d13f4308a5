"""The process beside the server keeps its limits and ends with the server."""

from __future__ import annotations

import os
import signal
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path

import pytest
from support.paths import CHECKOUT
from support.processes import comes_true, is_there

from fitcounter.papers.own_process import PICTURES, PRESS, OwnProcess


@pytest.fixture
def own() -> Iterator[OwnProcess]:
    process = OwnProcess("Others wait.", "It failed here.", most_mb=512, longest_s=30)
    yield process
    process.end()


@pytest.mark.parametrize("how", [signal.SIGKILL, signal.SIGTERM])
def test_it_ends_with_its_server_however_that_ends(how: signal.Signals) -> None:
    code = (
        "import os, time; from fitcounter.papers.own_process import PICTURES\n"
        "print(PICTURES.do(os.getpid), flush=True); time.sleep(60)"
    )
    with subprocess.Popen(
        [sys.executable, "-c", code], cwd=CHECKOUT, stdout=subprocess.PIPE, text=True
    ) as server:
        assert server.stdout is not None
        pid = int(server.stdout.readline())
        assert is_there(pid)
        server.send_signal(how)
    assert comes_true(lambda: not is_there(pid))


def test_ctrl_c_at_the_terminal_is_the_servers_alone(own: OwnProcess) -> None:
    before = own.do(os.getpid)
    os.kill(before, signal.SIGINT)
    assert own.do(os.getpid) == before


def test_the_limits_of_both_hold_in_the_process() -> None:
    for process in (PICTURES, PRESS):
        process.do(os.getpid)
        limits = Path(f"/proc/{process.pid}/limits").read_text()
        line = next(one for one in limits.splitlines() if one.startswith("Max address space"))
        assert int(line.split()[3]) == process.most_mb * 1024 * 1024
