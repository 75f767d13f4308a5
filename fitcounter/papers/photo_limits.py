"""How large a photo may be that is sent, and what is kept of it."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

MOST_PIXELS: Final = 40_000_000
LONGEST_SIDE_PX: Final = 1600
UNREADABLE: Final = (
    "That is no photo that can be read here. Take it again, or send a JPEG, PNG or WebP."
)
TOO_LARGE: Final = (
    "That photo is too large: 12 MB and 40 megapixels are the most. Send a smaller one."
)


@dataclass(frozen=True, slots=True)
class CleanPhoto:
    """A JPEG of at most 1600 px a side, upright, with nothing in it but its pixels."""

    content: bytes
    width_px: int
    height_px: int
