"""A photo as it is kept: written anew in a process of its own, its pixels alone."""

from __future__ import annotations

from dataclasses import dataclass
from importlib import import_module
from typing import Final

from fitcounter.papers.own_process import PICTURES

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


def clean(sent: bytes) -> CleanPhoto:
    """What is kept of a photo that was sent. Raises BadInput, Unavailable."""
    return PICTURES.do(_write_anew, sent)


def _write_anew(sent: bytes) -> CleanPhoto:
    """In the process of the pictures, where alone their library is loaded."""
    photo: CleanPhoto = import_module("fitcounter.papers.photo_writer").clean(sent)
    return photo
