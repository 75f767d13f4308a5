"""The strip of one day, from midnight to midnight, with the wear on it."""

from __future__ import annotations

from datetime import time
from typing import Final

from markupsafe import Markup

_HOUR_WIDE: Final = 10  # of the drawing, which is 240 wide


def strip_of(begin: time | None = None, minutes: int = 0, state: str = "") -> Markup:
    """A day from midnight to midnight with the wear on it: black where worn, an outline where
    planned.
    """
    if begin is None:
        return _drawn("")
    left = min(237.0, (begin.hour + begin.minute / 60) * _HOUR_WIDE)
    wide = max(3.0, min(240 - left, minutes / 60 * _HOUR_WIDE))
    return _drawn(
        f"M{left:.1f} 2h{wide:.1f}v10h-{wide:.1f}z", "currentColor" if state == "worn" else "none"
    )


def whole_day_strip() -> Markup:
    """The strip of ordinary wear: an open bracket over the hours people are up."""
    return _drawn("M80 12V2H220V12")


def _drawn(mark: str, fill: str = "none") -> Markup:
    """The line of a day with its quarters, and the mark on it.

    It repeats the words beside it, so it is decoration.
    """
    return Markup(
        f'<svg class="strip" viewBox="0 0 240 14" aria-hidden="true"><path fill="{fill}"'
        ' stroke="currentColor" stroke-width="0.8" d="M0 7H240M0.4 3v8M60 5v4M120 3v8M180'
        f' 5v4M239.6 3v8{mark}"/></svg>'
    )
