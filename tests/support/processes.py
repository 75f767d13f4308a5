"""What a test asks of processes beside it."""

from __future__ import annotations

import time
from collections.abc import Callable
from pathlib import Path


def is_there(pid: int) -> bool:
    """Does it run? One that ended and was not asked for yet does not. Linux alone."""
    try:
        return Path(f"/proc/{pid}/stat").read_text().rpartition(")")[2].split()[0] != "Z"
    except OSError:
        return False


def comes_true(what: Callable[[], bool], seconds: float = 20) -> bool:
    """Is it so within these seconds?"""
    end = time.monotonic() + seconds
    while time.monotonic() < end:
        if what():
            return True
        time.sleep(0.02)
    return False
