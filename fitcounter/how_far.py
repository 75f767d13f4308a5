"""How far a long work is, told to whoever waits for it: a copy, the way back, an export.

Whoever starts the work says who is told (`told_to`); a work that nobody waits for tells nobody.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from contextlib import contextmanager
from contextvars import ContextVar
from typing import TypeVar

# Told what is done (a message), how much of it is done, and how much there is.
Told = Callable[[str, int, int], None]
_TOLD: ContextVar[Told | None] = ContextVar("told", default=None)
Thing = TypeVar("Thing")


@contextmanager
def told_to(told: Told) -> Iterator[None]:
    """Whatever is worked at inside, in this thread, is told."""
    before = _TOLD.set(told)
    try:
        yield
    finally:
        _TOLD.reset(before)


@contextmanager
def also_told_to(other: Told) -> Iterator[None]:
    """Beside whoever is told by now."""
    first = _TOLD.get()

    def both(what: str, done: int, of: int) -> None:
        if first is not None:
            first(what, done, of)
        other(what, done, of)

    with told_to(both):
        yield


def tell(what: str, done: int, of: int) -> None:
    """So much is done. of: how much there is, above 0."""
    told = _TOLD.get()
    if told is not None:
        told(what, min(done, of), of)


class Part:
    """One part of a work, whose steps are counted. of: how many there are, asked only where
    somebody is told.
    """

    def __init__(self, what: str, of: Callable[[], int]) -> None:
        self._told, self.what, self.done = _TOLD.get(), what, 0
        self.of = of() if self._told else 0
        if self._told and self.of:  # of nothing there is nothing to tell
            self._told(what, 0, self.of)

    def each(self, things: Iterable[Thing]) -> Iterable[Thing]:
        """The same things, each counted once it is done with."""
        return things if self._told is None else self._counted(self._told, things)

    def _counted(self, told: Told, things: Iterable[Thing]) -> Iterator[Thing]:
        for thing in things:
            yield thing
            self.done += 1
            told(self.what, min(self.done, self.of), max(1, self.of))
