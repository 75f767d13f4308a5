"""Tape readings: from what people type to an exact length, and back to what a tape shows.

1 in = 25.4 mm exactly (international yard and pound agreement, 1959). What was typed is matched
against a grammar of the digits 0-9; it is never handed to float() or int() before it has passed,
and never folded by Unicode's rules, which turn 16¼ into 161/4.
"""

from __future__ import annotations

import math
import re
from dataclasses import dataclass, field
from fractions import Fraction
from functools import lru_cache

from fitcounter.errors import BadReading, message
from fitcounter.fit.handbook import leg as book

MM_PER_UNIT = {"in": book.MM_PER_INCH, "cm": book.MM_PER_CM, "mm": book.MM_PER_MM}
EXAMPLES = {"in": "16 1/4", "cm": "41.3", "mm": "413"}
# Every space separator of Unicode (category Zs); a tab or a new line is none.
_SPACES = (
    " \u00a0\u1680\u2000\u2001\u2002\u2003\u2004\u2005\u2006\u2007\u2008\u2009\u200a"
    "\u202f\u205f\u3000"
)
_DIRECTION_MARKS = "\u061c\u200e\u200f\u202a\u202b\u202c\u202d\u202e\u2066\u2067\u2068\u2069"
_DRAWN = {
    sign: Fraction(sixteenths, book.SIXTEENTHS)
    for sign, sixteenths in zip("⅛¼⅜½⅝¾⅞", range(2, book.SIXTEENTHS, 2), strict=True)
}
_OTHER_FRACTIONS = "⅓⅔⅕⅖⅗⅘⅙⅚⅐⅑⅒"

_LOOSE_MARKS = re.compile(
    f"(?<=[{_SPACES}])[{_DIRECTION_MARKS}]+|[{_DIRECTION_MARKS}]+(?=[{_SPACES}])"
)
_WITH_UNIT = re.compile(r"(?P<number>.*?) *(?P<unit>in|cm|mm|[\"”″]|''|’’|′′)?", re.IGNORECASE)
_DECIMAL = re.compile(r"(?P<whole>[0-9]+)(?:(?P<point>[.,])(?P<decimals>[0-9]+))?")
_FRACTION = re.compile(r"(?:(?P<whole>[0-9]+)(?: +|-))?(?P<over>[0-9]+)/(?P<under>[0-9]+)")
_DRAWN_FRACTION = re.compile(f"(?:(?P<whole>[0-9]+)(?: *|-))?(?P<drawn>[{''.join(_DRAWN)}])")


@dataclass(frozen=True, slots=True)
class Length:
    """An exact length that remembers how it was typed. text: without stray spaces and marks; unit:
    "in", "cm" or "mm".

    um: the length in whole micrometres, as it is stored; float_mm: mm as a float, for what is not
    reckoned exactly.
    """

    mm: Fraction = field(hash=False)  # said by its text, and hashed slowly
    text: str
    unit: str
    # Kept, because one reading is asked for them dozens of times.
    um: int = field(init=False, repr=False, compare=False)
    float_mm: float = field(init=False, repr=False, compare=False)

    def __post_init__(self) -> None:
        object.__setattr__(self, "um", round(self.mm * book.UM_PER_MM))
        object.__setattr__(self, "float_mm", float(self.mm))


def parse_length(
    text: str, unit: str, field: str | None = None, *, zero_ok: bool = False
) -> Length:
    """Reads what was typed on a tape's terms: 16 1/4, 16-1/4, 16¼, 16.25, 16,25, 41.3 cm, 413mm, 16
    1/4", 16 1/4 in.

    unit ("in", "cm", "mm") is taken where none is typed. field: the form field or JSON path, for
    the error. zero_ok: a height or a gap may be 0, a girth may not. Raises BadReading, whose
    sentence says what to type, and nothing else.
    """
    try:
        return _parse(text, unit, zero_ok)
    except BadReading as error:
        error.field = field
        raise


# one reading is read by the sheet, the row and the job; the same texts come back all day
@lru_cache(maxsize=2048)
def _parse(text: str, unit: str, zero_ok: bool) -> Length:
    if unit not in MM_PER_UNIT:
        raise BadReading(message("The unit of a reading is in, cm or mm."), typed=text)
    example = EXAMPLES[unit]
    if len(text) > book.LONGEST_TEXT:
        raise BadReading(
            message("That is too long for a reading: type one such as {example}.", example=example),
            typed=text,
        )
    clean = _LOOSE_MARKS.sub("", text.strip(_SPACES + _DIRECTION_MARKS))
    plain = re.sub(f"[{_SPACES}]", " ", clean).replace("\u2044", "/")
    if not plain:
        raise BadReading(message("Type a reading such as {example}.", example=example), typed=text)
    parts = _WITH_UNIT.fullmatch(plain)
    number, typed_unit = (parts["number"], parts["unit"]) if parts else (plain, None)
    unit = _unit_named(typed_unit) or unit
    amount = _amount(number, MM_PER_UNIT[unit], example, text)
    if amount == 0 and not zero_ok:
        raise BadReading(
            message("A reading is above 0: type one such as {example}.", example=example),
            typed=text,
        )
    return Length(amount * MM_PER_UNIT[unit], clean, unit)


def _unit_named(typed: str | None) -> str | None:
    if typed is None:
        return None
    return typed.lower() if typed.isalpha() else "in"


def _amount(number: str, mm_per_unit: Fraction, example: str, typed: str) -> Fraction:
    """The number in its own unit."""
    if found := _DECIMAL.fullmatch(number):
        amount = _whole(found["whole"], example, typed) + _decimals(found["decimals"])
        if _may_be_thousands(found) and amount * mm_per_unit < book.THOUSANDS_BELOW_MM:
            raise BadReading(
                message(
                    "Is the comma a decimal comma or thousands? Type the reading with a point, or"
                    " as a fraction."
                ),
                typed=typed,
            )
        return amount
    if found := _DRAWN_FRACTION.fullmatch(number):
        return _whole(found["whole"], example, typed) + _DRAWN[found["drawn"]]
    if found := _FRACTION.fullmatch(number):
        over, under = int(found["over"]), int(found["under"])
        if under not in book.DENOMINATORS:
            raise BadReading(_TAPE_PARTS, typed=typed)
        if over >= under:
            raise BadReading(
                message(
                    "The fraction is less than one: leave a space after the whole number, as in 14"
                    " 5/8."
                ),
                typed=typed,
            )
        return _whole(found["whole"], example, typed) + Fraction(over, under)
    raise BadReading(_why_not(number, example), typed=typed)


_TAPE_PARTS = message(
    "A tape has halves, quarters, eighths, sixteenths, 32nds and 64ths: type one such as 16 1/4."
)


def _whole(digits: str | None, example: str, typed: str) -> Fraction:
    if digits is not None and len(digits) > book.MOST_WHOLE_DIGITS:
        raise BadReading(
            message(
                "That is longer than any leg or boot: type a reading such as {example}.",
                example=example,
            ),
            typed=typed,
        )
    return Fraction(digits or 0)


def _decimals(digits: str | None) -> Fraction:
    return Fraction(f"0.{digits or 0}")


def _may_be_thousands(found: re.Match[str]) -> bool:
    """1,625 may be a decimal comma or a thousand and more; 0,625 and 1,62 cannot be thousands."""
    return (
        found["point"] == ","
        and len(found["decimals"]) == book.THOUSANDS_DIGITS
        and found["whole"][0] != "0"
    )


def _why_not(number: str, example: str) -> str:
    """The sentence for what fits no spelling at all."""
    if "'" in number or "’" in number or "′" in number:
        return message("Feet are not used here: type inches alone, such as 16 1/4.")
    if number[:1] in ("-", "−", "–"):
        return message(
            "A reading is above 0: type it without a minus sign, such as {example}.",
            example=example,
        )
    if any(sign in number for sign in _OTHER_FRACTIONS):
        return _TAPE_PARTS
    return message("Type a reading in the digits 0 to 9, such as {example}.", example=example)


@lru_cache(maxsize=2048)
def sixteenths_nearest(mm: Fraction | float) -> int:
    """Whole sixteenths of an inch nearest to a length; a tie goes to the even one (ASTM E29)."""
    return round(Fraction(mm) / book.MM_PER_INCH * book.SIXTEENTHS)


def sixteenths_up(mm: Fraction | float) -> int:
    """What a boot is short by, in sixteenths rounded up; 0 where it is not short."""
    return max(
        0,
        math.ceil(
            (Fraction(mm) - Fraction(book.FLOAT_SLACK_MM)) / book.MM_PER_INCH * book.SIXTEENTHS
        ),
    )


def sixteenths_down(mm: Fraction | float) -> int:
    """The room a boot has, in sixteenths rounded down; 0 where it has none."""
    return max(
        0,
        math.floor(
            (Fraction(mm) + Fraction(book.FLOAT_SLACK_MM)) / book.MM_PER_INCH * book.SIXTEENTHS
        ),
    )


def split_sixteenths(sixteenths: int) -> tuple[int, int, int]:
    """Whole inches, numerator, denominator in lowest terms: 260 -> (16, 1, 4)."""
    whole, rest = divmod(sixteenths, book.SIXTEENTHS)
    part = Fraction(rest, book.SIXTEENTHS)
    return whole, part.numerator, part.denominator


def frac_parts(mm: Fraction | float) -> tuple[int, int, int]:
    """Whole inches, numerator and denominator of the nearest sixteenth, for templates that draw the
    fraction.
    """
    return split_sixteenths(sixteenths_nearest(mm))


def write_plain(sixteenths: int) -> str:
    """Sixteenths as they are typed: "16 1/4", "5/8", "0", "-1/8"."""
    whole, over, under = split_sixteenths(abs(sixteenths))
    parts = [str(whole)] if whole or not over else []
    if over:
        parts.append(f"{over}/{under}")
    return "-" * (sixteenths < 0) + " ".join(parts)


def write_drawn(sixteenths: int) -> str:
    """Sixteenths with true fraction characters where there are any: "16¼", "16 3/16", "⅝", "0"."""
    text = write_plain(sixteenths)
    for sign, part in _DRAWN.items():
        drawn = f"{part.numerator}/{part.denominator}"
        if text.endswith((f" {drawn}", f"-{drawn}")) or text == drawn:
            return text.removesuffix(drawn).rstrip() + sign
    return text


def say_inches(mm: Fraction | float) -> str:
    """The nearest sixteenth with true fraction characters, without the unit: "16¼", "16 3/16"."""
    return write_drawn(sixteenths_nearest(mm))


def say_length(mm: Fraction | float, unit: str) -> str:
    """A length in the unit it was typed in, to 1/16 in or 1 mm: "16¼ in", "41.3 cm", "413 mm"."""
    if unit == "in":
        return f"{say_inches(mm)} in"
    return _say_metric(round(Fraction(mm)), unit)


@lru_cache(maxsize=2048)
def height_as_marked(mm: Fraction | float, unit: str) -> float:
    """A computed height in mm as somebody would mark it: to ⅛ in where inches are typed."""
    eighth = book.MM_PER_INCH / 8
    return float(round(Fraction(mm) / eighth) * eighth) if unit == "in" else float(mm)


def say_height(mm: Fraction | float, unit: str) -> str:
    """A computed height as it is said everywhere: "12⅝ in", "32.1 cm"."""
    return say_length(height_as_marked(mm, unit), unit)


def short_by_inches(mm: Fraction | float) -> str:
    """What a boot is short by, rounded up to 1/16 in, as it is typed: "1 3/4", "5/8"."""
    return write_plain(sixteenths_up(mm))


def room_inches(mm: Fraction | float) -> str:
    """The room a boot has, rounded down to 1/16 in, as it is typed."""
    return write_plain(sixteenths_down(mm))


def say_short_by(mm: Fraction | float, unit: str) -> str:
    """What a boot is short by, for a screen, in the counter's unit: "⅝ in", "1.6 cm", "16 mm";
    rounded up.
    """
    if unit == "in":
        return f"{write_drawn(sixteenths_up(mm))} in"
    return _say_metric(max(0, math.ceil(Fraction(mm) - Fraction(book.FLOAT_SLACK_MM))), unit)


def say_room(mm: Fraction | float, unit: str) -> str:
    """The room a boot has, for a screen, in the counter's unit; rounded down."""
    if unit == "in":
        return f"{write_drawn(sixteenths_down(mm))} in"
    return _say_metric(max(0, math.floor(Fraction(mm) + Fraction(book.FLOAT_SLACK_MM))), unit)


def _say_metric(whole_mm: int, unit: str) -> str:
    if unit == "cm":
        return f"{float(whole_mm / book.MM_PER_CM):.1f} cm"
    return f"{whole_mm} mm"
