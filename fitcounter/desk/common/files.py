"""One file beside the shop's own, a photo or a signature: whole or not at all, on the disk before
the row that names it.
"""

from __future__ import annotations

import errno
import os
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from pathlib import Path

from fitcounter.desk.common.translation import say
from fitcounter.errors import NoRoom, Unavailable

_FULL = (errno.ENOSPC, errno.EDQUOT)


def put(path: Path, content: bytes) -> None:
    """Whole or not at all, mode 0600, and on the disk when it returns.

    Raises NoRoom, Unavailable.
    """
    half = path.with_suffix(".half")
    with in_words():
        try:
            path.parent.mkdir(mode=0o700, exist_ok=True)
            with os.fdopen(
                os.open(half, os.O_WRONLY | os.O_CREAT | os.O_EXCL, 0o600), "wb"
            ) as file:
                file.write(content)
                file.flush()
                os.fsync(file.fileno())
            half.rename(path)
            _sync_folder(path.parent)
        except OSError:
            half.unlink(missing_ok=True)
            raise


@contextmanager
def in_words() -> Iterator[None]:
    """What the disk says becomes a sentence. Raises NoRoom, Unavailable."""
    try:
        yield
    except OSError as error:
        if error.errno in _FULL:
            raise NoRoom(
                say(
                    "The disk is full, so nothing was saved. What you typed is still here."
                    " Free some space, then save again."
                )
            ) from error
        raise Unavailable(
            say(
                "The disk cannot be written, so nothing was saved. What you typed is still here."
                " Try again."
            )
        ) from error


@contextmanager
def only_with(*paths: Path) -> Iterator[None]:
    """Files that were not there before go again where the write that names them comes to
    nothing.
    """
    new = [path for path in paths if not path.exists()]
    try:
        yield
    except BaseException:
        for path in new:
            with suppress(OSError):  # a stray file harms nothing and is swept at night
                path.unlink(missing_ok=True)
        raise


def _sync_folder(folder: Path) -> None:
    """The name too is on the disk; where folders cannot be opened, as on Windows, the system does
    it.
    """
    with suppress(PermissionError, IsADirectoryError):
        held = os.open(folder, os.O_RDONLY)
        try:
            os.fsync(held)
        finally:
            os.close(held)
