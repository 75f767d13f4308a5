"""Whether the shop's file and its log are still the ones that this process opened.

Where somebody removes or replaces the log while connections are open, SQLite goes on writing into a
file that has no name any more, and everything saved from then on is gone when the program ends. So
each write first compares what lies there with what was opened, and once it differs nothing more is
saved in this process.
"""

from __future__ import annotations

import os
import threading
from dataclasses import dataclass
from pathlib import Path

from fitcounter.errors import Unavailable

REPLACED = (
    "The shop's file was moved or replaced while the program had it open, so nothing was saved."
    " Stop the program, start it again, and save once more; what you typed is still here."
)
_Identity = tuple[int, int]


@dataclass(slots=True)
class _Opened:
    """One path that this process has open: by how many connections, and which files they are."""

    connections: int
    shop: _Identity | None
    log: _Identity | None
    replaced: bool = False


_opened: dict[str, _Opened] = {}
_lock = threading.RLock()  # a connection may be forgotten while another one is counted


def opened(path: Path) -> None:
    """One more connection, whose file and log lie there now."""
    key = _key(path)
    with _lock:
        known = _opened.get(key)
        if known is None:
            _opened[key] = _Opened(1, _identity(key), _identity(f"{key}-wal"))
        else:
            known.connections += 1


def closed(path: Path) -> None:
    """One connection less; the last one takes what is known of the path along."""
    key = _key(path)
    with _lock:
        known = _opened.get(key)
        if known is not None:
            known.connections -= 1
            if known.connections <= 0:
                del _opened[key]


def check(path: Path) -> None:
    """Raises Unavailable where another file lies there than the one that was opened, now or once
    before.
    """
    key = _key(path)
    shop, log = _identity(key), _identity(f"{key}-wal")
    with _lock:
        known = _opened.get(key)
        if known is None:
            return
        if known.log is None:  # it had not been needed so far
            known.log = log
        if (known.shop, known.log) != (shop, log):
            known.replaced = True
        if known.replaced:
            raise Unavailable(REPLACED)


def _key(path: Path) -> str:
    return os.path.abspath(path)


def _identity(path: str) -> _Identity | None:
    """Device and inode, None where nothing lies there."""
    try:
        status = os.stat(path)
    except OSError:
        return None
    return status.st_dev, status.st_ino
