"""Who has the shop's file open, and whether it and its log are still the ones that were opened.

Every process that has connections says so by a shared lock on a file beside the shop's, which a
restore holds alone from its first step to its last.

Where somebody removes or replaces the log while connections are open, SQLite goes on writing into a
file that has no name any more, and everything saved from then on is gone when the program ends. So
each write first compares what lies there with what was opened, and once it differs nothing more is
saved in this process.
"""

from __future__ import annotations

import fcntl
import os
import threading
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path

from fitcounter.errors import Unavailable

REPLACED = (
    "The shop's file was moved or replaced while the program ran, so nothing was saved."
    " Start the program again, then save: what you typed is still here."
)
SHUT = (
    "The shop is being restored from a copy, so nothing can be opened or saved now."
    " Try again in a few minutes."
)
LOCK = "in-use.lock"
_Identity = tuple[int, int]


@dataclass(slots=True)
class _Opened:
    """One path that this process has open: by how many connections, which files they are, and the
    descriptor of the lock; None on a disk that takes none.
    """

    connections: int
    lock: int | None
    shop: _Identity | None = None
    log: _Identity | None = None
    is_known: bool = False
    replaced: bool = False


_opened: dict[str, _Opened] = {}
_lock = threading.RLock()  # a connection may be forgotten while another one is counted


def enter(path: Path) -> None:
    """One more connection is about to be made. Raises Unavailable while a restore keeps all out."""
    key = _key(path)
    with _lock:
        known = _opened.get(key)
        if known is None:
            _opened[key] = _Opened(1, _share(key))
        else:
            known.connections += 1


def opened(path: Path) -> None:
    """The connection is made; of the first one, file and log that lie there now are remembered."""
    key = _key(path)
    with _lock:
        known = _opened.get(key)
        if known is not None and not known.is_known:
            known.shop, known.log = _identity(key), _identity(f"{key}-wal")
            known.is_known = True


def closed(path: Path) -> None:
    """One connection less; the last one takes what is known of the path along."""
    key = _key(path)
    with _lock:
        known = _opened.get(key)
        if known is not None:
            known.connections -= 1
            if known.connections <= 0:
                del _opened[key]
                if known.lock is not None:
                    os.close(known.lock)


@contextmanager
def shut(path: Path) -> Iterator[bool]:
    """Keeps everybody out of a shop's file; False where somebody, this process too, has it open.

    The kernel lets go when the process dies.
    """
    held = _lock_file(_key(path))
    try:
        try:
            fcntl.flock(held, fcntl.LOCK_EX | fcntl.LOCK_NB)
        except BlockingIOError:
            yield False
        else:
            yield True
    finally:
        os.close(held)


def is_shut(path: Path) -> bool:
    """Does a restore keep everybody out of a shop's file now?"""
    try:
        held = _lock_file(_key(path))
    except OSError:  # no such folder
        return False
    try:
        fcntl.flock(held, fcntl.LOCK_SH | fcntl.LOCK_NB)
    except BlockingIOError:
        return True
    finally:
        os.close(held)
    return False


def _share(key: str) -> int | None:
    try:
        held = _lock_file(key)
    except OSError:  # a disk that takes no writes may be read all the same
        return None
    try:
        fcntl.flock(held, fcntl.LOCK_SH | fcntl.LOCK_NB)
    except BlockingIOError:
        os.close(held)
        raise Unavailable(SHUT) from None
    return held


def _lock_file(key: str) -> int:
    return os.open(os.path.join(os.path.dirname(key), LOCK), os.O_RDWR | os.O_CREAT, 0o600)


def check(path: Path) -> None:
    """Raises Unavailable where another file lies there than the one that was opened, now or once
    before.
    """
    key = _key(path)
    shop, log = _identity(key), _identity(f"{key}-wal")
    with _lock:
        known = _opened.get(key)
        if known is None or not known.is_known:
            return
        if known.log is None:  # it had not been needed so far
            known.log = log
        if (known.shop, known.log) != (shop, log):
            known.replaced = True
        if known.replaced:
            raise Unavailable(REPLACED)


def _key(path: Path) -> str:
    text = str(path)
    return text if text in _opened else os.path.abspath(text)


def _identity(path: str) -> _Identity | None:
    """Device and inode, None where nothing lies there."""
    try:
        status = os.stat(path)
    except OSError:
        return None
    return status.st_dev, status.st_ino
