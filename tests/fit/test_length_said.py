"""How a length is said back: in the unit it was typed in, as the trade writes it, rounded."""

from __future__ import annotations

from fractions import Fraction

import pytest

from fitcounter.fit import tape
from fitcounter.fit.tape import parse_length

INCH = Fraction(127, 5)


def test_every_sixteenth_is_said_back_as_it_can_be_typed_again() -> None:
    """What is shown for a length reads as that length."""
    for n in range(1, 40 * 16 + 1):
        mm = n * INCH / 16
        assert parse_length(tape.say_inches(mm), "in").mm == mm
        assert parse_length(tape.say_length(mm, "in"), "cm").mm == mm
        assert parse_length(tape.short_by_inches(mm), "in").mm == mm
        assert parse_length(tape.room_inches(mm), "in").mm == mm


def test_fractions_are_subtracted_exactly() -> None:
    """16 1/4 less 14 1/2 is 1 3/4, the trade's commonest slip."""
    short = parse_length("16 1/4", "in").mm - parse_length("14 1/2", "in").mm
    assert tape.short_by_inches(short) == "1 3/4"


@pytest.mark.parametrize(
    ("mm", "plain", "drawn"),
    [
        (Fraction(0), "0", "0"),
        (INCH / 16, "1/16", "1/16"),
        (INCH / 8, "1/8", "⅛"),
        (INCH / 4, "1/4", "¼"),
        (INCH * 7 / 8, "7/8", "⅞"),
        (INCH * 11 / 16, "11/16", "11/16"),
        (INCH * 15 / 16, "15/16", "15/16"),
        (INCH, "1", "1"),
        (INCH * 16, "16", "16"),
        (INCH * 65 / 4, "16 1/4", "16¼"),
        (INCH * 259 / 16, "16 3/16", "16 3/16"),
        (INCH * 263 / 16, "16 7/16", "16 7/16"),
        (INCH * 23 / 2, "11 1/2", "11½"),
        (-INCH / 8, "-1/8", "-⅛"),
        (-INCH * 19 / 16, "-1 3/16", "-1 3/16"),
        (-INCH * 5 / 4, "-1 1/4", "-1¼"),
        (-INCH * 5 / 16, "-5/16", "-5/16"),
        (-INCH / 16, "-1/16", "-1/16"),
    ],
)
def test_inches_are_written_as_the_trade_writes_them(mm: Fraction, plain: str, drawn: str) -> None:
    """True fraction characters where there are any, n/16 where not."""
    sixteenths = tape.sixteenths_nearest(mm)
    assert tape.write_plain(sixteenths) == plain
    assert tape.write_drawn(sixteenths) == drawn
    assert tape.say_inches(mm) == drawn


@pytest.mark.parametrize(
    ("mm", "unit", "said"),
    [
        (370, "in", "14 9/16 in"),
        (Fraction(1651, 4), "in", "16¼ in"),
        (Fraction(1651, 4), "cm", "41.3 cm"),
        (Fraction(1651, 4), "mm", "413 mm"),
        (412.5, "mm", "412 mm"),
        (413.5, "mm", "414 mm"),
        (400, "cm", "40.0 cm"),
        (INCH * 5 / 32, "in", "⅛ in"),
        (INCH * 7 / 32, "in", "¼ in"),
        (-3.6, "mm", "-4 mm"),
    ],
)
def test_a_length_is_said_in_the_unit_it_was_typed_in(
    mm: Fraction | float, unit: str, said: str
) -> None:
    """Inches to the nearest sixteenth, metric to the millimetre; a tie goes to the even one (ASTM
    E29).
    """
    assert tape.say_length(mm, unit) == said


@pytest.mark.parametrize(
    ("mm", "short", "room"),
    [
        (Fraction(0), "0", "0"),
        (INCH / 16, "1/16", "1/16"),
        (float(INCH) * 3 / 16, "3/16", "3/16"),
        (float(INCH / 16) + 1e-7, "1/16", "1/16"),
        (float(INCH / 16) - 1e-7, "1/16", "1/16"),
        (float(INCH / 16) + 1e-5, "1/8", "1/16"),
        (float(INCH / 16) - 1e-5, "1/16", "0"),
        (INCH * 3 / 2 + Fraction(1, 10), "1 9/16", "1 1/2"),
        (Fraction(-5), "0", "0"),
        (Fraction(22225, 1000), "7/8", "7/8"),
    ],
)
def test_short_by_is_rounded_up_and_room_down_and_a_float_never_adds_a_sixteenth(
    mm: Fraction | float, short: str, room: str
) -> None:
    """Direction-aware, to 1/16 in, never below 0."""
    assert tape.short_by_inches(mm) == short
    assert tape.room_inches(mm) == room


@pytest.mark.parametrize(
    ("mm", "unit", "said"),
    [
        (float(INCH) * 5 / 8, "in", "⅝ in"),
        (16.2, "in", "11/16 in"),
        (15.0000001, "mm", "15 mm"),
        (15.1, "mm", "16 mm"),
        (15.1, "cm", "1.6 cm"),
        (-2, "mm", "0 mm"),
        (-2, "cm", "0.0 cm"),
        (-2, "in", "0 in"),
    ],
)
def test_what_a_boot_is_short_by_is_said_rounded_up_in_the_counters_unit(
    mm: float, unit: str, said: str
) -> None:
    """Up to the next sixteenth or the next millimetre."""
    assert tape.say_short_by(mm, unit) == said


@pytest.mark.parametrize(
    ("mm", "unit", "said"),
    [
        (float(INCH) * 5 / 8, "in", "⅝ in"),
        (float(INCH) * 11 / 16 - 0.1, "in", "⅝ in"),
        (15.9, "mm", "15 mm"),
        (15.9999999, "mm", "16 mm"),
        (16.9, "cm", "1.6 cm"),
        (-2, "mm", "0 mm"),
        (-2, "cm", "0.0 cm"),
        (-2, "in", "0 in"),
    ],
)
def test_the_room_a_boot_has_is_said_rounded_down_in_the_counters_unit(
    mm: float, unit: str, said: str
) -> None:
    """Down to the last sixteenth or the last millimetre, so that nobody counts on more."""
    assert tape.say_room(mm, unit) == said


def test_a_fraction_comes_apart_for_templates_that_draw_it() -> None:
    """Whole inches, numerator and denominator in lowest terms."""
    assert tape.frac_parts(Fraction(1651, 4)) == (16, 1, 4)
    assert tape.frac_parts(INCH * 3 / 16) == (0, 3, 16)
    assert tape.frac_parts(406.4) == (16, 0, 1)


@pytest.mark.parametrize(
    ("inches", "unit", "marked"),
    [(12.0, "in", 12.0), (14.25, "in", 14.25), (13.03, "in", 13.0), (13.03, "cm", 13.03)],
)
def test_a_computed_height_is_named_to_the_eighth_of_an_inch(
    inches: float, unit: str, marked: float
) -> None:
    assert tape.height_as_marked(inches * 25.4, unit) == pytest.approx(marked * 25.4)
