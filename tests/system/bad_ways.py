"""Every way in which something comes that cannot be, by the name that the table of bad input has
for it.

Each way takes the till and what is typed, and gives back the answer that the table of bad input is
held against.
"""

from __future__ import annotations

from collections.abc import Callable

from support.till import Answer

Way = Callable[..., Answer]
WAYS: dict[str, Way] = {}


def way(name: str) -> Callable[[Way], Way]:
    def keep(one: Way) -> Way:
        WAYS[name] = one
        return one

    return keep
