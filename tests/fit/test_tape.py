"""Tape readings: every spelling of the case file, and what is refused."""

from __future__ import annotations

import json
import sys
from fractions import Fraction
from unicodedata import category

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from support.published_cases import REFERENCE, Case, cases

from fitcounter.errors import BadReading
from fitcounter.fit import tape
from fitcounter.fit.tape import parse_length

TAPE_CASES = json.loads((REFERENCE / "tape_cases.json").read_text(encoding="utf-8"))["cases"]
INCH = Fraction(127, 5)
SAYS = {
    "empty": "Type a reading such as",
    "too long": "too long for a reading",
    "not above 0": "A reading is above 0: type one",
    "minus": "without a minus sign",
    "parts": "A tape has halves, quarters, eighths, sixteenths, 32nds and 64ths",
    "not less than one": "The fraction is less than one",
    "thousands": "Is the comma a decimal comma or thousands?",
    "feet": "Feet are not used here",
    "digits": "in the digits 0 to 9",
    "too many digits": "longer than any leg or boot",
    "unit": "The unit of a reading is in, cm or mm.",
}


@pytest.mark.parametrize(
    "case", TAPE_CASES, ids=[f"{ascii(case['input'])[1:30]}-{case['unit']}" for case in TAPE_CASES]
)
def test_every_spelling_of_the_case_file_gives_its_exact_length_or_its_refusal(
    case: dict[str, str],
) -> None:
    """Each entry of tests/reference/tape_cases.json reads as it says."""
    zero_ok = bool(case.get("zero_ok"))
    if case["expected"] is not None:
        assert parse_length(case["input"], case["unit"], zero_ok=zero_ok).mm == Fraction(
            case["expected"]
        )
        return
    with pytest.raises(BadReading) as refusal:
        parse_length(case["input"], case["unit"], "girth", zero_ok=zero_ok)
    assert SAYS[case["refused"]] in refusal.value.sentence
    assert refusal.value.sentence.endswith(".")
    assert (refusal.value.typed, refusal.value.field) == (case["input"], "girth")


@pytest.mark.parametrize("case", cases("inch.json"))
def test_an_inch_is_exactly_25_4_millimetres(case: Case) -> None:
    """International inch, 1959."""
    assert parse_length(case.given, "in").mm == Fraction(case.expected)


def test_a_reading_remembers_what_was_typed_and_in_which_unit() -> None:
    """Stray spaces and direction marks are gone; the unit typed wins over the counter's."""
    read = parse_length("\u2066 16\u00a01/4 in\u2069 ", "cm")
    assert (read.text, read.unit, read.mm, read.um) == (
        "16\u00a01/4 in",
        "in",
        Fraction(1651, 4),
        412_750,
    )
    assert parse_length("41", "cm").unit == "cm"
    assert parse_length('5"', "mm").unit == "in"
    assert parse_length("413 MM", "in").unit == "mm"


def test_every_space_of_unicode_counts_as_a_space() -> None:
    """Category Zs, between whole and fraction, before the unit and around it all."""
    spaces = [sign for sign in map(chr, range(sys.maxunicode + 1)) if category(sign) == "Zs"]
    assert len(spaces) > 10
    for space in spaces:
        read = parse_length(f"{space}16{space}1/4{space}in{space}", "cm")
        assert (read.mm, read.text) == (Fraction(1651, 4), f"16{space}1/4{space}in"), ascii(space)


def test_the_example_in_a_refusal_is_in_the_counters_unit() -> None:
    """A counter in centimetres is not told to type inches."""
    for unit, example in (("in", "16 1/4"), ("cm", "41.3"), ("mm", "413")):
        with pytest.raises(BadReading, match=f"such as {example}."):
            parse_length("", unit)
        with pytest.raises(BadReading, match=f"such as {example}."):
            parse_length("x", unit)
        with pytest.raises(BadReading, match=f"such as {example}."):
            parse_length("-3", unit)
        with pytest.raises(BadReading, match=f"such as {example}."):
            parse_length("0", unit)
        with pytest.raises(BadReading, match=f"such as {example}."):
            parse_length("9" * 25, unit)
        with pytest.raises(BadReading, match=f"such as {example}."):
            parse_length("12345", unit)


def test_twenty_four_characters_are_read_and_twenty_five_are_not() -> None:
    """The limit is on the text as typed."""
    assert parse_length("16" + " " * 18 + " 1/4", "in").mm == Fraction(1651, 4)
    with pytest.raises(BadReading, match="too long"):
        parse_length("16" + " " * 19 + " 1/4", "in")


def test_a_comma_before_three_digits_is_asked_under_five_inches_only() -> None:
    """1,625 may mean thousands; 5,125 and 0,625 cannot."""
    assert parse_length("5,000", "in").mm == 127
    assert parse_length("12,700", "cm").mm == 127
    with pytest.raises(BadReading, match="thousands"):
        parse_length("4,999", "in")


def test_a_refusal_without_a_field_has_none() -> None:
    """field is for the form or the JSON path only."""
    with pytest.raises(BadReading) as refusal:
        parse_length("x", "in")
    assert refusal.value.field is None


def spellings(n: int) -> list[tuple[str, str]]:
    """A girth of n/32 in, in eight spellings, with the counter's unit."""
    whole, rest = divmod(n, 32)
    part = Fraction(rest, 32)
    drawn = {Fraction(k, 8): sign for k, sign in zip(range(1, 8), "⅛¼⅜½⅝¾⅞", strict=True)}
    fraction = f" {part.numerator}/{part.denominator}" if part else ""
    decimal = f"{float(Fraction(n, 32)):.5f}"
    millimetres = f"{float(n * INCH / 32):.5f}"
    return [
        (f"{whole}{fraction}", "in"),
        (f"{whole}{fraction.replace(' ', '-')}", "in"),
        (
            (
                f"{whole}{drawn[part]}"
                if part in drawn
                else f"{whole}{fraction.replace('/', chr(0x2044))}"
            ),
            "in",
        ),
        (decimal, "in"),
        (decimal.replace(".", ","), "in"),
        (f'{whole}{fraction}"', "cm"),
        (f"{whole}{fraction.replace(' ', chr(0xA0))} in", "mm"),
        (f"{millimetres}mm", "in"),
    ]


def test_every_thirty_second_from_5_to_40_inches_comes_back_exactly_in_eight_spellings() -> None:
    """1,121 lengths, each spelled eight ways."""
    for n in range(5 * 32, 40 * 32 + 1):
        for text, unit in spellings(n):
            assert parse_length(text, unit).mm == n * INCH / 32, text


ANYTHING = st.one_of(
    st.text(max_size=30),
    st.text(alphabet="0123456789 /.,-¼½⅞\"incm'\u00a0\u2044\u200e", max_size=26),
)
UNITS = st.sampled_from(["in", "cm", "mm", "x"])


@pytest.mark.slow
@settings(derandomize=True, deadline=None, max_examples=100_000)
@given(ANYTHING, UNITS)
def test_whatever_is_typed_only_a_bad_reading_is_raised_in_a_hundred_thousand_texts(
    text: str, unit: str
) -> None:
    """The parser raises nothing but BadReading; what it reads is a length above 0."""
    reads_or_refuses(text, unit)


@settings(derandomize=True, deadline=None, max_examples=1_000)
@given(ANYTHING, UNITS)
def test_whatever_is_typed_only_a_bad_reading_is_raised(text: str, unit: str) -> None:
    """The short form of the same, for every day."""
    reads_or_refuses(text, unit)


def reads_or_refuses(text: str, unit: str) -> None:
    """Anything but a BadReading that holds what was typed fails the test."""
    try:
        read = parse_length(text, unit)
    except BadReading as refusal:
        told = refusal.typed
    else:
        told = text if read.mm > 0 and read.unit in tape.MM_PER_UNIT else None
    assert told == text
