"""How often functions are called while something happens in this thread."""

from __future__ import annotations

import sys
from collections import Counter
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from types import FrameType, FunctionType


@contextmanager
def counted_calls(*watched: Callable[..., object]) -> Iterator[Counter[str]]:
    """The calls of plain functions of ours, by name, inside the block; nothing stands in their
    place.
    """
    names = {function.__code__: function.__name__ for function in map(_plain, watched)}
    calls: Counter[str] = Counter()

    def seen(frame: FrameType, event: str, _: object) -> None:
        if event == "call" and frame.f_code in names:
            calls[names[frame.f_code]] += 1

    before = sys.getprofile()
    sys.setprofile(seen)
    try:
        yield calls
    finally:
        sys.setprofile(before)


def _plain(function: Callable[..., object]) -> FunctionType:
    assert isinstance(function, FunctionType)
    return function
