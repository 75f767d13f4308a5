"""Boot stick, leg board and wall card: the shop's heights on paper, to the tenth of a millimetre.

A leg read at 12 and a boot read at 11 1/2 give the wrong answer; a strip with the shop's heights
stands in the boot, a wider one beside the leg. A printer may shrink a page without saying so: every
page has a line of 100 mm to check.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from fractions import Fraction
from typing import Final

from babel.numbers import format_decimal

from fitcounter.errors import BadInput, message
from fitcounter.papers.bench_records import Rulers
from fitcounter.papers.html import Say, in_english
from fitcounter.papers.pdf import Document, print_pdf

INCH_MM: Final = Fraction(254, 10)
_LONGEST_PIECE_MM: Final = 216  # fits on Letter under the heading, with its tab
_UNIT_MM: Final = {"in": INCH_MM, "cm": Fraction(10)}
_PARTS: Final = {"in": 8, "cm": 10}  # small marks to a unit
_TALLEST_MM: Final = 600
_TAB_MM: Final = 10
_EIGHTHS: Final = {
    "1/8": "⅛",
    "1/4": "¼",
    "3/8": "⅜",
    "1/2": "½",
    "5/8": "⅝",
    "3/4": "¾",
    "7/8": "⅞",
}
_WALLS_MM: Final = (1.0, 1.25, 1.5, 1.75, 2.0, 2.25, 2.5)


@dataclass(frozen=True, slots=True)
class _Tick:
    """A small mark: its place up from the foot of the strip, its length, and the number beside it
    ("" for none).
    """

    up_mm: float
    long_mm: float
    words: str


@dataclass(frozen=True, slots=True)
class _Strip:
    """One piece of a ruler.

    starts: what its foot stands for, in words; joins: a tab to glue the next piece on.
    """

    number: int
    length_mm: float
    joins: bool
    ticks: tuple[_Tick, ...]
    heights: tuple[_Tick, ...]


@dataclass(frozen=True, slots=True)
class _Wall:
    """What a wall of this thickness adds to a tape around the outside, and to twice the width of a
    boot laid flat.
    """

    thick: str
    outside_mm: str
    outside_in: str
    flat_mm: str
    flat_in: str


def rulers(record: Rulers, say: Say = in_english, language: str = "en") -> bytes:
    """Boot stick, leg board and wall card as PDF, three pages. say: gives our sentences in the
    language.

    Raises BadInput for a height that is not between 0 and 600 mm, Unavailable when PDFs cannot be
    made here.
    """
    for mark in record.marks:
        if not 0 < mark.height_mm <= _TALLEST_MM:
            raise BadInput(
                message("Give heights between 0 and {most} mm for the rulers.", most=_TALLEST_MM),
                typed=mark.words,
                field="heights",
            )
    return print_pdf(
        Document(
            "rulers.html", say("Boot stick, leg board and wall card"), record.paper, language, say
        ),
        shop=record.shop,
        strips=_strips(record),
        unit=record.unit,
        tab_mm=_TAB_MM,
        check_inches=4,
        walls=[_wall(thick, language) for thick in _WALLS_MM],
    )


def _strips(record: Rulers) -> list[_Strip]:
    """The pieces of one ruler, from the foot up, long enough for the tallest height and a little
    more.
    """
    half = _UNIT_MM[record.unit] / 2
    tallest = max((mark.height_mm for mark in record.marks), default=_LONGEST_PIECE_MM - half)
    top = math.ceil((tallest + 12) / half) * half
    count = math.ceil(top / _LONGEST_PIECE_MM)
    piece = (
        math.ceil(top / count / half) * half
    )  # strips of about one length join on a whole or a half
    strips = []
    for number in range(count):
        foot = number * piece
        end = min(top, foot + piece)
        strips.append(
            _Strip(
                number=number + 1,
                length_mm=float(end - foot),
                joins=number + 1 < count,
                ticks=_ticks(record.unit, foot, end),
                heights=tuple(
                    _Tick(_rounded(mark.height_mm - foot), 0, _short(mark.words))
                    for mark in sorted(record.marks, key=lambda mark: mark.height_mm)
                    if foot < mark.height_mm <= end
                ),
            )
        )
    return strips


def _ticks(unit: str, foot: Fraction, end: Fraction) -> tuple[_Tick, ...]:
    """The small marks from foot to end: whole units long with their number, halves and quarters
    shorter.
    """
    step = _UNIT_MM[unit] / _PARTS[unit]
    first, last = int(foot / step), int(end / step)
    ticks = []
    for n in range(first, last + 1):
        whole, rest = divmod(n, _PARTS[unit])
        if rest == 0:
            ticks.append(_Tick(_rounded(n * step - foot), 7.0, str(whole) if n > first else ""))
        else:
            middle = rest * 2 == _PARTS[unit]
            quarter = unit == "in" and rest % 2 == 0
            ticks.append(
                _Tick(_rounded(n * step - foot), 5.0 if middle else 3.6 if quarter else 2.2, "")
            )
    return tuple(ticks)


def _wall(thick_mm: float, language: str) -> _Wall:
    """Outside tape: 2·pi·thickness. Laid flat: 4 thicknesses (both walls, both faces). Geometry."""
    outside, flat = 2 * math.pi * thick_mm, 4 * thick_mm
    return _Wall(
        f"{format_decimal(thick_mm, locale=language)} mm",
        f"{format_decimal(outside, '0.0', language)} mm",
        _sixteenths(outside),
        f"{format_decimal(flat, '0.0', language)} mm",
        _sixteenths(flat),
    )


def _sixteenths(length_mm: float) -> str:
    """A length as the nearest sixteenth of an inch, in words."""
    nearest = Fraction(round(length_mm / 25.4 * 16), 16)
    return f"{nearest.numerator}/{nearest.denominator} in"


def _short(words: str) -> str:
    """Halves to eighths as one character, because a drawing has no fractions of its own."""
    whole, _, part = words.rpartition(" ")
    return whole + _EIGHTHS[part] if part in _EIGHTHS else words


def _rounded(length: Fraction) -> float:
    """Millimetres for the drawing, to a thousandth."""
    return round(float(length), 3)
