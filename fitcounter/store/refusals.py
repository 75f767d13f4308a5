"""SQLite's own errors as sentences for the person who saved."""

from __future__ import annotations

from fitcounter.errors import NoRoom, Unavailable, message


def integrity_sentence(error: str) -> str:
    """Why a constraint refused a write. error: the words of SQLite."""
    if "booked" in error:
        return message("That tree is booked for those days. Pick another tree or other days.")
    if "UNIQUE" in error:
        return message(
            "Someone saved the same thing a moment ago. Load the page again and check before"
            " saving."
        )
    return message(
        "One value does not fit the others, so nothing was saved. Check the numbers and save again."
    )


def operational(error: Exception) -> Unavailable:
    """NoRoom for a full disk, Unavailable for a file that is busy or cannot be written."""
    if "full" in str(error):
        return NoRoom(
            message(
                "The disk is full, so nothing was saved. Make room, then save again: what you"
                " typed is still here."
            )
        )
    return Unavailable(
        message(
            "The shop’s file is busy or cannot be written, so nothing was saved. Try again: what"
            " you typed is still here."
        )
    )
