"""What a figure is: a number with its unit, its source and a word for how far it can be trusted.

The chapters of the handbook (leg, leather, rounds, shop …) are
written with Chapter.figure: it hands the bare number to the module that computes with it and keeps
the whole figure for the page that prints it, so a number can never be used without standing in the
handbook.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from fractions import Fraction
from typing import TypeVar

Number = TypeVar("Number", int, float, Fraction)


class Trust(StrEnum):
    """How far a figure can be trusted; our model is what our own formulas or simulations give.

    The last three are never shown as if they were one of the first two.
    """

    STANDARD = "standard"
    PUBLISHED = "published"
    COMMON_PRACTICE = "common practice"
    OUR_MODEL = "our model"
    SHOPS_CHOICE = "shop's choice"


@dataclass(frozen=True, slots=True)
class Figure:
    """One number of the handbook.

    unit: "" for a plain count, "share" for a fraction of one (printed in per cent).
    """

    chapter: str
    name: str
    value: int | float | Fraction
    unit: str
    trust: Trust
    source: str

    @property
    def text(self) -> str:
        """The value as a page prints it, with its unit: "25.4 mm", "12 %", "4"."""
        return f"{self.figure} {self.unit_word}".rstrip()

    @property
    def figure(self) -> str:
        """The value alone: "25.4", "12" for a share of 0.12."""
        return f"{float(self.value) * (100 if self.unit == 'share' else 1):.6g}"

    @property
    def unit_word(self) -> str:
        """The unit as it is printed: "mm", "%"."""
        return "%" if self.unit == "share" else self.unit


class Chapter:
    """A chapter of the handbook while it is being written."""

    def __init__(self, title: str) -> None:
        self.title = title
        self.figures: list[Figure] = []

    def figure(self, name: str, value: Number, unit: str, trust: Trust, source: str) -> Number:
        """Writes a figure down and gives the bare number back."""
        self.figures.append(Figure(self.title, name, value, unit, trust, source))
        return value

    def choice(self, name: str, value: Number, unit: str, reason: str) -> Number:
        """Writes down a figure that is the shop's own judgement; reason takes the place of a
        source.
        """
        return self.figure(name, value, unit, Trust.SHOPS_CHOICE, reason)
