"""A photo as it is kept: written anew in a process of its own, its pixels alone."""

from __future__ import annotations

from importlib import import_module

from fitcounter.papers.own_process import PICTURES
from fitcounter.papers.photo_limits import CleanPhoto, PhotoFault


def clean(sent: bytes) -> CleanPhoto | PhotoFault:
    """What is kept of a photo that was sent, or why nothing is. Raises Unavailable."""
    return PICTURES.do(_write_anew, sent)


def _write_anew(sent: bytes) -> CleanPhoto | PhotoFault:
    """In the process of the pictures, where alone their library is loaded."""
    photo: CleanPhoto | PhotoFault = import_module("fitcounter.papers.photo_writer").clean(sent)
    return photo
