"""A process that sends what is queued and is killed: before it notes that, or at some moment."""

from __future__ import annotations

import os
import signal
import time
from collections.abc import Callable

from fitcounter.store.send_queue import SendQueue


def killed_before_noting(send: Callable[[], object]) -> None:
    """Killed once the other side has the message, before that is noted."""
    child = os.fork()
    if child == 0:
        try:
            SendQueue.finish = _die  # type: ignore[method-assign]
            send()
        finally:  # never back into the tests' own process
            os._exit(1)
    assert os.waitstatus_to_exitcode(os.waitpid(child, 0)[1]) == -signal.SIGKILL


def killed_after(send: Callable[[], object], seconds: float) -> bool:
    """Killed after so long. Whether it had not ended by itself before."""
    child = os.fork()
    if child == 0:
        try:
            send()
        finally:
            os._exit(0)
    time.sleep(seconds)
    os.kill(child, signal.SIGKILL)
    return os.WIFSIGNALED(os.waitpid(child, 0)[1])


def _die(*_: object, **__: object) -> None:
    os.kill(os.getpid(), signal.SIGKILL)
