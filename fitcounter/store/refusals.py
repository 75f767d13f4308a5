"""SQLite's own errors as sentences for the person who saved."""

from __future__ import annotations

from fitcounter.errors import NoRoom, Unavailable


def integrity_sentence(error: str) -> str:
    """Why a constraint refused a write. error: the words of SQLite."""
    if "booked" in error:
        return "That tree is booked for those days. Pick another tree or other days."
    if "UNIQUE" in error:
        return (
            "Somebody saved the same thing a moment ago. Load the page again and look before"
            " saving."
        )
    return (
        "One of the values does not fit the rest, so nothing was saved. Look at the figures and"
        " save again."
    )


def operational(error: Exception) -> Unavailable:
    """NoRoom for a full disk, Unavailable for a file that is busy or cannot be written."""
    if "full" in str(error):
        return NoRoom(
            "The disk is full, so nothing was saved. What you typed is still here; make room, then"
            " save again."
        )
    return Unavailable(
        "The shop's file is busy or cannot be written, so nothing was saved. What you typed is"
        " still here; try again."
    )
