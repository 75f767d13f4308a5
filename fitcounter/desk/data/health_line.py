"""One line of the health page."""

from __future__ import annotations

from typing import NamedTuple


class HealthLine(NamedTuple):
    """One line: what, how it stands in words, and, where somebody has to do something, what.

    details: what is shown behind a tap.
    """

    what: str
    words: str
    todo: str = ""
    details: str = ""

    @property
    def good(self) -> bool:
        return not self.todo
