"""Work that does harm in the process it is given to, and work that tells how far it is."""

from __future__ import annotations

import os
import signal
import time

from fitcounter import how_far
from fitcounter.errors import BadInput


def die() -> None:
    """As a library in C does that finds its own memory in disorder."""
    os.kill(os.getpid(), signal.SIGABRT)


def eat(megabytes: int) -> int:
    """Takes so much memory at once."""
    return len(bytes(megabytes * 1024 * 1024))


def refuse(field: str) -> None:
    raise BadInput("This cannot be taken.", typed="x", field=field)


def slowly(path: str, seconds: float) -> bool:
    """True when nobody else was at it meanwhile."""
    os.close(os.open(path, os.O_CREAT | os.O_EXCL))
    time.sleep(seconds)
    os.unlink(path)
    return True


def count(to: int) -> int:
    """Tells each step of it."""
    for _ in how_far.Part("Counting", lambda: to).each(range(to)):
        pass
    return to


def toil(seconds: float) -> None:
    """Uses so much of the processor."""
    end = time.process_time() + seconds
    while time.process_time() < end:
        pass
