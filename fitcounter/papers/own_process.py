"""Processes beside the server for what is heavy: setting a PDF, reading a photo, making a QR code.

Each is started at the first need and ended when nothing was asked for a while. It does one thing at
a time, may take so much memory and so long, and gives way to the server where both want the
processor. What goes wrong in it ends it alone: whoever asked reads a sentence, and the next one
finds a new process.
"""

from __future__ import annotations

import os
import signal
import threading
from collections.abc import Callable
from concurrent.futures import Future, ProcessPoolExecutor
from concurrent.futures import TimeoutError as TooLate
from concurrent.futures.process import BrokenProcessPool
from contextlib import suppress
from functools import partial
from multiprocessing import connection, get_context, parent_process
from typing import Final, ParamSpec, TypeVar

from fitcounter.errors import Unavailable

try:
    import resource
except ImportError:  # a system without limits of this kind
    resource = None  # type: ignore[assignment]

START_S: Final = 60.0
WAIT_S: Final = 60.0
IDLE_S: Final = 300.0
BYTES_PER_MB: Final = 1024 * 1024
NICENESS: Final = 3
P = ParamSpec("P")
T = TypeVar("T")


class OwnProcess:
    """One process, there while it is needed.

    busy, failed: the sentences for who asks while others wait too long, and whose work ended the
    process. most_mb: of address space. longest_s: for one piece of work. idle_s: until it is ended.
    """

    def __init__(
        self, busy: str, failed: str, *, most_mb: int, longest_s: float, idle_s: float = IDLE_S
    ) -> None:
        self.busy, self.failed = busy, failed
        self.most_mb, self.longest_s, self.idle_s = most_mb, longest_s, idle_s
        self._turn = threading.Lock()
        self._pool: ProcessPoolExecutor | None = None
        self._pid: int | None = None
        self._idle: threading.Timer | None = None

    @property
    def pid(self) -> int | None:
        """Of the process, None while there is none."""
        return self._pid

    def do(self, work: Callable[P, T], *given: P.args, **named: P.kwargs) -> T:
        """What the work returns for what it is given; its errors are raised here.

        work: a function of a module, which the process imports; what it needs of libraries that
        the server does without, it imports when it is called. Raises Unavailable: others are
        waiting, it took too long, it wanted too much memory, or the process ended in the middle.
        """
        if not self._turn.acquire(timeout=WAIT_S):
            raise Unavailable(self.busy)
        try:
            return self._ask(partial(work, *given, **named))
        finally:
            self._turn.release()

    def end(self) -> None:
        """Ends the process when nothing is being done in it; the next work starts a new one."""
        if self._turn.acquire(blocking=False):
            try:
                self._close()
            finally:
                self._turn.release()

    def _ask(self, work: Callable[[], T]) -> T:
        if self._idle is not None:
            self._idle.cancel()
        try:
            return self._running().submit(work).result(self.longest_s)
        except (BrokenProcessPool, TooLate, MemoryError) as error:
            self._kill()
            raise Unavailable(self.failed) from error
        finally:
            self._end_when_idle()

    def _running(self) -> ProcessPoolExecutor:
        """The process, started where there is none. Raises BrokenProcessPool, TimeoutError."""
        if self._pool is None:
            self._pool = ProcessPoolExecutor(
                1, get_context("spawn"), initializer=_begin, initargs=(self.most_mb,)
            )
            started: Future[int] = self._pool.submit(os.getpid)
            self._pid = started.result(START_S)
        return self._pool

    def _end_when_idle(self) -> None:
        self._idle = threading.Timer(self.idle_s, self.end)
        self._idle.daemon = True
        self._idle.start()

    def _kill(self) -> None:
        if self._pid is not None:
            with suppress(ProcessLookupError):
                os.kill(self._pid, getattr(signal, "SIGKILL", signal.SIGTERM))
        self._close()

    def _close(self) -> None:
        if self._pool is not None:
            self._pool.shutdown(wait=False, cancel_futures=True)
        self._pool = self._pid = None


PRESS: Final = OwnProcess(
    "Others are waiting for their papers. Ask for this one again in a minute.",
    "This paper could not be made. Ask for it once more; if it fails again, use the print page.",
    most_mb=1024,
    longest_s=120,
)
PICTURES: Final = OwnProcess(
    "Others are waiting for their photos. Send this one again in a minute.",
    "This picture could not be read. Send it once more; if it fails again, take it anew.",
    most_mb=1280,
    longest_s=60,
)


def _begin(most_mb: int) -> None:
    """What the process does first: its limits, its rank, and to end with the server."""
    signal.signal(signal.SIGINT, signal.SIG_IGN)  # Ctrl-C at a terminal is meant for the server
    if resource is not None:
        most = most_mb * BYTES_PER_MB
        _, hard = resource.getrlimit(resource.RLIMIT_AS)
        if hard != resource.RLIM_INFINITY:
            most = min(most, hard)
        resource.setrlimit(resource.RLIMIT_AS, (most, most))
    if hasattr(os, "nice"):
        os.nice(NICENESS)
    threading.Thread(target=_end_with_the_server, daemon=True).start()


def _end_with_the_server() -> None:
    """Also a server that was killed leaves nothing running."""
    server = parent_process()
    if server is not None:
        connection.wait([server.sentinel])
        os._exit(0)
