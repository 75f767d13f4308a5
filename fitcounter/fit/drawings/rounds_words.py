"""The chart of a boot's rounds in words: its key, and each round in a sentence."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from fitcounter.errors import message
from fitcounter.fit.tape import say_length

_BEFORE, _ON_TREE, _RESTED = message("before"), message("on the tree"), message("rested")


@dataclass(frozen=True, slots=True)
class RoundReadings:
    """One round's girths in mm by one method at one mark; None where there is no reading (yet)."""

    before_mm: float | None
    on_tree_mm: float | None
    rested_mm: float | None


def in_words(rounds: Sequence[RoundReadings], wanted_mm: float, unit: str) -> str:
    """The chart for whoever cannot see it: "Wanted 16 in. Round 1: before 15 in, …"."""
    words = message("Wanted {girth}.", girth=say_length(wanted_mm, unit))
    for i, one in enumerate(rounds, 1):
        words = message("{before} {round}", before=words, round=_round_words(i, one, unit))
    return words


def _round_words(number: int, one: RoundReadings, unit: str) -> str:
    """ "Round 1: before 15⅛ in, on the tree 16 in, rested 15½ in."."""
    read = message("no reading")
    found = False
    for name, girth in (
        (_BEFORE, one.before_mm if number == 1 else None),
        (_ON_TREE, one.on_tree_mm),
        (_RESTED, one.rested_mm),
    ):
        if girth is not None:
            named = message("{what} {girth}", what=name, girth=say_length(girth, unit))
            read = message("{first}, {second}", first=read, second=named) if found else named
            found = True
    if one.rested_mm is None:
        return message("Round {number}: {readings}, not yet rested.", number=number, readings=read)
    return message("Round {number}: {readings}.", number=number, readings=read)


CAPTION = message("Ring: on the tree, does not count. Double stroke: rested, counts.")
