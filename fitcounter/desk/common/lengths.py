"""Lengths as they are shown: fractions of an inch, or centimetres with the decimal mark of the
language spoken just now.
"""

from __future__ import annotations

from fractions import Fraction

from fitcounter.desk.common.translation import spoken
from fitcounter.fit import tape


def say_length(mm: Fraction | float, unit: str) -> str:
    """A length in the unit it was typed in: "16¼ in", "41.3 cm" or "41,3 cm", "413 mm"."""
    return spoken().decimals(tape.say_length(mm, unit))


def say_height(mm: Fraction | float, unit: str) -> str:
    """A computed height in words, to the eighth as it would be marked: "12⅝ in", "32,1 cm"."""
    return spoken().decimals(tape.say_height(mm, unit))


def say_short_by(mm: Fraction | float, unit: str) -> str:
    """What a boot is short by, rounded up: "⅝ in", "1.6 cm"."""
    return spoken().decimals(tape.say_short_by(mm, unit))


def say_room(mm: Fraction | float, unit: str) -> str:
    """The room a boot has, rounded down."""
    return spoken().decimals(tape.say_room(mm, unit))
