"""What runs in a process beside the server (own_process): one piece of work after another, until
the server has no more or is no more.
"""

from __future__ import annotations

import math
import os
import signal
import sys
import threading
import time
from collections.abc import Callable
from dataclasses import dataclass
from multiprocessing.connection import Connection
from queue import SimpleQueue
from typing import Final

from fitcounter.how_far import told_to

try:
    import resource
except ImportError:  # a system without limits of this kind
    resource = None  # type: ignore[assignment]

BYTES_PER_MB: Final = 1024 * 1024
NICENESS: Final = 3
Work = Callable[[], object]


@dataclass(frozen=True, slots=True)
class Raised:
    """What a piece of work raised in place of an answer."""

    error: Exception


@dataclass(frozen=True, slots=True)
class SoFar:
    """How far a piece of work is, on its way to whoever waits for it (how_far.Told)."""

    what: str
    done: int
    of: int


def main() -> None:
    """With the process's arguments: number of its end of the pipe, most megabytes, most seconds."""
    end, most_mb, longest_s = sys.argv[1:]
    _limit(int(most_mb))
    pipe, works = Connection(int(end)), SimpleQueue[Work]()
    threading.Thread(target=_take_in, args=(pipe, works), daemon=True).start()
    while True:
        work = works.get()
        _end_after(float(longest_s))
        with told_to(lambda what, done, of: pipe.send(SoFar(what, done, of))):
            answer = _outcome(work)
        pipe.send(answer)


def _take_in(pipe: Connection, works: SimpleQueue[Work]) -> None:
    """Where the server has gone, this process goes too, also in the middle of its work."""
    try:
        while True:
            works.put(pipe.recv())
    except EOFError:
        os._exit(0)


def _outcome(work: Work) -> object:
    try:
        return work()
    except Exception as error:  # it is the server's to deal with
        return Raised(error)


def _limit(most_mb: int) -> None:
    """What the process does first: its memory, its rank, and that Ctrl-C at a terminal is meant for
    the server.
    """
    signal.signal(signal.SIGINT, signal.SIG_IGN)
    if resource is not None:
        most = most_mb * BYTES_PER_MB
        _, hard = resource.getrlimit(resource.RLIMIT_AS)
        if hard != resource.RLIM_INFINITY:
            most = min(most, hard)
        resource.setrlimit(resource.RLIMIT_AS, (most, most))
    if hasattr(os, "nice"):
        os.nice(NICENESS)


def _end_after(seconds: float) -> None:
    """The system ends the process once it has used so much more of the processor."""
    if resource is not None:
        most = math.ceil(time.process_time() + seconds)
        resource.setrlimit(resource.RLIMIT_CPU, (most, resource.getrlimit(resource.RLIMIT_CPU)[1]))
