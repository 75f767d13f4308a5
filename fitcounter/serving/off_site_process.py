"""The process beside the server that keeps the off-site copy which the owner set up: `fitcounter
replicate`, begun with the server, begun anew when it ends or something else is set up.
"""

from __future__ import annotations

import os
import signal
import subprocess
import sys
import threading
import time
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from datetime import UTC, datetime
from pathlib import Path

from fitcounter.desk.data import off_site_copy as data_replica
from fitcounter.desk.data import off_site_settings
from fitcounter.desk.data import take_over as data_lease
from fitcounter.errors import FitCounterError
from fitcounter.serving.off_site_copy_follows_shop import end_with_parent
from fitcounter.settings import PROGRAM

LOOK_S = 2.0
AGAIN_S = 30.0
STOP_S = 20


@contextmanager
def following(data_dir: Path, look_s: float = LOOK_S) -> Iterator[None]:
    """While the block runs what the owner set up is followed; nothing runs where nothing is."""
    enough = threading.Event()
    thread = threading.Thread(
        target=_look_on, args=(data_dir, look_s, enough), name="off-site", daemon=True
    )
    thread.start()
    try:
        yield
    finally:
        enough.set()
        thread.join(2 * STOP_S)


def _look_on(data_dir: Path, look_s: float, enough: threading.Event) -> None:
    # one thread from its start to its end: the system ends a process with the thread it came from
    running: subprocess.Popen[str] | None = None
    follows, not_before = "", 0.0
    while not enough.wait(look_s):
        if (data_dir / data_lease.LOST).exists():  # what is saved from now on would be lost
            os.kill(os.getpid(), signal.SIGTERM)
            break
        wanted = _wanted(data_dir)
        if running is not None and (running.poll() is not None or wanted != follows):
            _end(running, data_dir)
            not_before = time.monotonic() + AGAIN_S if wanted == follows else 0.0
            running = None
        if running is None and wanted and time.monotonic() >= not_before:
            if not data_replica.is_followed(data_dir):  # else somebody started it by hand
                running = _begin(data_dir)
            follows = wanted
    if running is not None:
        _end(running, data_dir)


def _wanted(data_dir: Path) -> str:
    """What is set up, as its file stands; "" for nothing."""
    with suppress(OSError):
        return (data_dir / off_site_settings.FILE).read_text(encoding="utf-8")
    return ""


def _begin(data_dir: Path) -> subprocess.Popen[str]:
    return subprocess.Popen(
        [sys.executable, "-m", "fitcounter", "replicate", "--data", str(data_dir)],
        cwd=PROGRAM if (PROGRAM / "fitcounter").is_dir() else None,
        stdin=subprocess.DEVNULL,
        stdout=subprocess.DEVNULL,
        stderr=subprocess.PIPE,
        text=True,
        preexec_fn=end_with_parent,
    )


def _end(running: subprocess.Popen[str], data_dir: Path) -> None:
    """Ends it; where it ended by itself with a fault, the health page says its last words."""
    ended = running.poll()
    running.terminate()
    try:
        said = running.communicate(timeout=STOP_S)[1]
    except subprocess.TimeoutExpired:
        running.kill()
        said = running.communicate()[1]
    if ended and said.strip():
        with suppress(FitCounterError, OSError):
            place = off_site_settings.read(data_dir)
            where = place.where if place else ""
            data_replica.note(data_dir, where, datetime.now(UTC), said.strip().splitlines()[-1])
