"""How large a photo may be that is sent, and what is kept of it."""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum
from typing import Final

MOST_PIXELS: Final = 40_000_000
LONGEST_SIDE_PX: Final = 1600


class PhotoFault(Enum):
    """Why nothing is kept of what was sent as a photo."""

    UNREADABLE = "unreadable"
    TOO_LARGE = "too large"


@dataclass(frozen=True, slots=True)
class CleanPhoto:
    """A JPEG of at most 1600 px a side, upright, with nothing in it but its pixels."""

    content: bytes
    width_px: int
    height_px: int
