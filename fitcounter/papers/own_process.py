"""Processes beside the server for what is heavy: setting a PDF, reading a photo, making a QR code,
listing holidays, trying out an off-site place.

Each is started at the first need and ended when nothing was asked for a while. It does one thing at
a time, in the order that it was asked, may take so much memory and so long, and gives way to the
server where both want the processor. What goes wrong in it ends it alone: whoever asked reads a
sentence, and the next one finds a new process. It never outlives the server.
"""

from __future__ import annotations

import logging
import os
import subprocess
import sys
import threading
from collections.abc import Callable
from dataclasses import dataclass
from functools import partial
from multiprocessing.connection import Connection, Pipe
from typing import Any, Final, ParamSpec, TypeVar

from fitcounter import how_far
from fitcounter.errors import Unavailable, message
from fitcounter.papers.waiting_line import WaitingLine
from fitcounter.papers.work_loop import Raised, SoFar

log = logging.getLogger("fitcounter")
LINE: Final = 5  # at one process; with both full, threads of the server are left for all others
WAIT_S: Final = 300.0
IDLE_S: Final = 300.0
BY_THE_CLOCK: Final = 5
WAITING: Final = message("Waiting until others are done")
MAKING_READY: Final = message("Making ready")
# not by the way that multiprocessing starts one: that runs the server's own main module again
_MAIN: Final = "from fitcounter.papers.work_loop import main; main()"
P = ParamSpec("P")
T = TypeVar("T")


@dataclass(frozen=True, slots=True)
class _Beside:
    """A process that runs. pipe: our end of the one to it."""

    process: subprocess.Popen[bytes]
    pipe: Connection

    def answer(self, work: Callable[[], object]) -> object:
        """Whoever asks is told how far it is.

        Raises EOFError or OSError when the process ends in the middle.
        """
        self.pipe.send(work)
        while isinstance(said := self.pipe.recv(), SoFar):
            how_far.tell(said.what, said.done, said.of)
        return said

    def end(self) -> None:
        """Whatever it does; reaped when this returns."""
        self.process.kill()
        self.process.wait()
        self.pipe.close()


def _start(most_mb: int, longest_s: float) -> _Beside:
    ours, theirs = Pipe()
    with theirs:
        end = theirs.fileno()
        process = subprocess.Popen(
            [sys.executable, "-c", _MAIN, str(end), str(most_mb), str(longest_s)],
            env=os.environ | {"PYTHONPATH": os.pathsep.join(sys.path)},
            stdin=subprocess.DEVNULL,
            stdout=subprocess.DEVNULL,
            pass_fds=(end,),
        )
    return _Beside(process, ours)


class OwnProcess:
    """One process, there while it is needed.

    busy, failed: the sentences for who asks while others wait too long, and whose work ended the
    process. most_mb: of address space. longest_s: of processor time for one piece of work; by the
    clock five times that, because a busy machine is no reason to refuse. idle_s: until it is ended.
    """

    def __init__(
        self, busy: str, failed: str, *, most_mb: int, longest_s: float, idle_s: float = IDLE_S
    ) -> None:
        self.busy, self.failed = busy, failed
        self.most_mb, self.longest_s, self.idle_s = most_mb, longest_s, idle_s
        self._line = WaitingLine(LINE)
        self._beside: _Beside | None = None
        self._idle: threading.Timer | None = None

    @property
    def pid(self) -> int | None:
        """Of the process, None while there is none."""
        return self._beside.process.pid if self._beside else None

    def do(self, work: Callable[P, T], *given: P.args, **named: P.kwargs) -> T:
        """What the work returns for what it is given; its errors are raised here.

        work: a function of a module, which the process imports; what it needs of libraries that
        the server does without, it imports when it is called. Raises Unavailable: others were
        before it too long, it took too long, it wanted too much memory, or the process ended in the
        middle.
        """
        how_far.tell(WAITING, 0, 1)
        if not self._line.come(WAIT_S):
            raise Unavailable(self.busy)
        how_far.tell(MAKING_READY, 0, 1)
        try:
            answer: Any = self._ask(partial(work, *given, **named))
        finally:
            self._end_when_idle()
            self._line.go()
        if isinstance(answer, Raised):
            raise answer.error
        return answer  # type: ignore[no-any-return]  # the pipe carries no types

    def end(self) -> None:
        """Ends the process when nothing is being done in it; the next work starts a new one."""
        if self._line.come(0):
            try:
                self._end()
            finally:
                self._line.go()

    def stop(self) -> None:
        """Ends the process, also in the middle of its work: the server is closing. Who asked and
        who waits reads a sentence.
        """
        self._line.send_home()
        self._kill()

    def _ask(self, work: Callable[[], object]) -> object:
        if self._idle is not None:
            self._idle.cancel()
        beside = self._running()
        deadline = threading.Timer(BY_THE_CLOCK * self.longest_s, self._kill)
        deadline.daemon = True
        deadline.start()
        try:
            answer = beside.answer(work)
            if isinstance(answer, Raised) and isinstance(answer.error, MemoryError):
                raise EOFError from answer.error
        except (EOFError, OSError) as error:
            log.warning("a process for papers or photos ended in the middle of its work")
            self._end()
            raise Unavailable(self.failed) from error
        finally:
            deadline.cancel()
        return answer

    def _running(self) -> _Beside:
        """The process, started where there is none, or none any more."""
        if self._beside is not None and self._beside.process.poll() is not None:
            self._end()
        if self._beside is None:
            self._beside = _start(self.most_mb, self.longest_s)
        return self._beside

    def _end_when_idle(self) -> None:
        self._idle = threading.Timer(self.idle_s, self.end)
        self._idle.daemon = True
        self._idle.start()

    def _kill(self) -> None:
        if self._beside is not None:
            self._beside.process.kill()

    def _end(self) -> None:
        if self._beside is not None:
            self._beside.end()
        self._beside = None


PRESS: Final = OwnProcess(
    message("Others are printing too. Try again in a minute."),
    message("This paper could not be made. Try again. If it fails again, use the print page."),
    most_mb=1024,
    longest_s=60,
)
LISTS: Final = OwnProcess(
    message("Others are asking for this list too. Try again in a minute."),
    message("The public holidays cannot be listed here. Type the closings yourself."),
    most_mb=1024,
    longest_s=20,
)
NETWORK: Final = OwnProcess(
    message("Others are trying out a place too. Try again in a minute."),
    message("This place could not be tried out. Try again."),
    most_mb=2048,
    longest_s=30,
    idle_s=10,
)
PICTURES: Final = OwnProcess(
    message("Others are sending photos too. Try again in a minute."),
    message("This photo could not be read. Send it again. If it fails again, take a new one."),
    most_mb=1280,
    longest_s=30,
)
