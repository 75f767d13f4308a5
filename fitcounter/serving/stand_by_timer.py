"""A computer that stands by: what brings the shop here from the off-site copy, in a process of its
own each time, and the thread that begins it every few minutes.
"""

from __future__ import annotations

import os
import signal
import subprocess
import sys
import threading
import time
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from datetime import datetime
from pathlib import Path

from fitcounter.desk.data import stand_by_fetch
from fitcounter.errors import Unavailable, message
from fitcounter.serving import off_site_place
from fitcounter.serving.off_site_copy_follows_shop import end_with_parent
from fitcounter.serving.off_site_place import ReplicaPlace
from fitcounter.settings import PROGRAM

LOOK_S = 1.0
STOP_S = 20


def bring(data_dir: Path, place: ReplicaPlace, now: datetime) -> str:
    """Brings the newest data here; what was looked at before goes. Raises NotFound, Unavailable."""
    with stand_by_fetch.alone(data_dir):
        off_site_place.renewed_here(place)
        return stand_by_fetch.take(data_dir, place.folder, now, place.fetch)


def begin(data_dir: Path) -> subprocess.Popen[str]:
    """Does it in a process of its own: the server loads no library for stores and other computers,
    and answers while a large file is read to its end.
    """
    return subprocess.Popen(
        [sys.executable, "-m", "fitcounter", "stand-by", "--once", "--data", str(data_dir)],
        cwd=PROGRAM if (PROGRAM / "fitcounter").is_dir() else None,
        stdin=subprocess.DEVNULL,
        stdout=subprocess.DEVNULL,
        stderr=subprocess.PIPE,
        text=True,
        preexec_fn=end_with_parent,
    )


def first(data_dir: Path) -> None:
    """The first time, before there is anything to show. Raises Unavailable with what was said."""
    running = begin(data_dir)
    said = running.communicate()[1].strip().splitlines()
    if running.returncode:
        raise Unavailable(said[-1] if said else message("The shop could not be brought here."))


@contextmanager
def following(data_dir: Path, every_s: float, look_s: float = LOOK_S) -> Iterator[None]:
    """While the block runs the shop is brought here again and again, until this computer has it:
    then the program is asked to stop.
    """
    enough = threading.Event()
    thread = threading.Thread(
        target=_look_on, args=(data_dir, every_s, look_s, enough), name="stand-by", daemon=True
    )
    thread.start()
    try:
        yield
    finally:
        enough.set()
        thread.join(2 * STOP_S)


def _look_on(data_dir: Path, every_s: float, look_s: float, enough: threading.Event) -> None:
    running, due = None, time.monotonic() + every_s
    while not enough.wait(look_s):
        if stand_by_fetch.has_shop(data_dir):
            os.kill(os.getpid(), signal.SIGTERM)
            break
        if running is not None and running.poll() is not None:
            _said(running.communicate()[1].strip().splitlines())
            running = None
        if running is None and time.monotonic() >= due:
            running, due = begin(data_dir), time.monotonic() + every_s
    if running is not None:
        running.terminate()
        running.communicate()


def _said(lines: Sequence[str]) -> None:
    """To the terminal, where it went wrong; the pages say from when their data are."""
    if lines:
        print(lines[-1], file=sys.stderr, flush=True)
