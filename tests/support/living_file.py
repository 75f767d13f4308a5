"""Who opens the shop's living file otherwise than through SQLite."""

from __future__ import annotations

import sys
from collections.abc import Iterator
from contextlib import contextmanager

SIDES = ("/shop.db", "/shop.db-wal", "/shop.db-shm", "/shop.db-journal")
_seen: list[str] | None = None
_hooked = False


def _watch(event: str, arguments: tuple[object, ...]) -> None:
    """SQLite opens its files itself and is not heard here (PEP 578: only Python's own opening)."""
    if event == "open" and _seen is not None and str(arguments[0]).endswith(SIDES):
        frame = sys._getframe(1)
        while frame and "fitcounter/" not in frame.f_code.co_filename:
            frame = frame.f_back  # type: ignore[assignment]
        if frame:
            _seen.append(f"{arguments[0]} at {frame.f_code.co_filename}:{frame.f_lineno}")


@contextmanager
def opened_otherwise() -> Iterator[list[str]]:
    """What the program opened meanwhile, each with the line that did it."""
    global _seen, _hooked
    if not _hooked:
        sys.addaudithook(_watch)  # a hook stays to the end of the process
        _hooked = True
    _seen = []
    try:
        yield _seen
    finally:
        _seen = None
