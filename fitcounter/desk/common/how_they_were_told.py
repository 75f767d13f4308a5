"""How a customer was told something, in words."""

from __future__ import annotations

from fitcounter.desk.common.translation import marked, say

HOW = {
    "called": marked("Told"),
    "left-word": marked("Left a message"),
    "no-answer": marked("No answer"),
    "text": marked("Text sent"),
    "e-mail": marked("E-mail sent"),
    "letter": marked("Letter sent"),
}


def call_words(how: str) -> str:
    """ "Told", "Left a message". how: as it is kept."""
    return say(HOW[how]) if how in HOW else how
