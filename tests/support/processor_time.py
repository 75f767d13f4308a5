"""Says what each test file took of the processor, beside the clock on the wall: on a machine that
others use too, only the first is ours. `pytest -p support.processor_time tests/web`.

What is counted is this process and all it started, the browser too, which ends without telling
anybody what it took: a thread looks at them again and again. What a program takes after the last
look at it is left out; so is every program where there is no /proc.
"""

from __future__ import annotations

import os
import threading
import time
from collections import defaultdict
from collections.abc import Iterator
from contextlib import suppress
from pathlib import Path

import pytest

FILES_SHOWN = 40
BETWEEN_LOOKS_S = 0.05
TICKS_A_SECOND = os.sysconf("SC_CLK_TCK")
_below: dict[tuple[int, str], float] = {}  # (process, when it began) → seconds
_taken: dict[str, list[float]] = defaultdict(lambda: [0.0, 0.0])


def _look() -> None:
    """Notes what each process below this one took so far, its own children left out."""
    waiting = [os.getpid()]
    while waiting:
        with suppress(OSError):  # it ended a moment ago
            for listed in Path(f"/proc/{waiting.pop()}/task").glob("*/children"):
                waiting += [int(child) for child in listed.read_text().split()]
        if waiting:
            _note(waiting[-1])


def _note(process: int) -> None:
    with suppress(OSError):
        figures = Path(f"/proc/{process}/stat").read_text().rpartition(")")[2].split()
        begun, ticks = figures[19], int(figures[11]) + int(figures[12])
        _below[process, begun] = ticks / TICKS_A_SECOND


def _keep_looking() -> None:
    while True:
        _look()
        time.sleep(BETWEEN_LOOKS_S)


def _processor_s() -> float:
    """Seconds of the processor that this process and all it started took so far."""
    times = os.times()
    return times.user + times.system + sum(list(_below.values()))


def pytest_configure() -> None:
    threading.Thread(target=_keep_looking, daemon=True).start()


@pytest.hookimpl(wrapper=True)
def pytest_runtest_protocol(item: pytest.Item) -> Iterator[None]:
    """Measures a test with its fixtures; the figures travel with its reports."""
    begun, at = _processor_s(), time.monotonic()
    item.user_properties.append(("begun", (begun, at)))
    return (yield)


@pytest.hookimpl(wrapper=True)
def pytest_runtest_makereport(
    item: pytest.Item, call: pytest.CallInfo[None]
) -> Iterator[pytest.TestReport]:
    report: pytest.TestReport = yield
    if call.when == "teardown":
        begun, at = dict(item.user_properties)["begun"]
        report.user_properties.append(("took", (_processor_s() - begun, time.monotonic() - at)))
    return report


def pytest_runtest_logreport(report: pytest.TestReport) -> None:
    took = dict(report.user_properties).get("took")
    if report.when == "teardown" and took:
        file = _taken[report.location[0]]
        file[0], file[1] = file[0] + took[0], file[1] + took[1]


def pytest_terminal_summary(terminalreporter: pytest.TerminalReporter) -> None:
    processor, wall = (sum(file[place] for file in _taken.values()) for place in (0, 1))
    terminalreporter.write_sep("=", "seconds of the processor, and on the wall, by file")
    terminalreporter.write_line(f"{processor:8.1f} {wall:8.1f}  all {len(_taken)} files")
    longest = sorted(_taken.items(), key=lambda entry: -entry[1][0])
    for name, (own, clock) in longest[:FILES_SHOWN]:
        terminalreporter.write_line(f"{own:8.1f} {clock:8.1f}  {name}")
