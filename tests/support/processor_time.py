"""Says what each test file took of the processor, beside the clock on the wall: on a machine that
others use too, only the first is ours. `pytest -p support.processor_time tests/web`.

What a browser takes is not counted: it ends after the report. Programs that a test starts and
waits for are.
"""

from __future__ import annotations

import os
import time
from collections import defaultdict
from collections.abc import Iterator

import pytest

FILES_SHOWN = 40
_taken: dict[str, list[float]] = defaultdict(lambda: [0.0, 0.0])


def _processor_s() -> float:
    """Seconds of the processor that this process and the children it waited for took so far."""
    times = os.times()
    return times.user + times.system + times.children_user + times.children_system


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
