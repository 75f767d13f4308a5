"""The ink: what is printed of a value, in the language of the paper and without harm to it."""

from __future__ import annotations

from datetime import date, time

import pytest
from jinja2 import UndefinedError
from markupsafe import Markup

from fitcounter.papers import html


@pytest.mark.parametrize(
    ("typed", "printed"),
    [
        ("Mari\x00sol\x07", "Marisol"),
        ("\u202egnihton\u202c", "gnihton"),
        ("a\ud800b", "ab"),
        ("two\nlines", "two\nlines"),
        ("Nguye\u0302\u0303n", "Nguye\u0302\u0303n"),
        ("a" + "\u0301" * 9, "a" + "\u0301" * 4),
    ],
)
def test_text_is_printed_without_what_turns_or_stops_the_page(typed: str, printed: str) -> None:
    assert html.plain(typed) == printed


def test_what_is_no_text_or_is_markup_already_stays_as_it_is() -> None:
    markup = Markup("<b>\u202e</b>")
    assert html.plain(markup) is markup
    assert html.plain(12) == 12


@pytest.mark.parametrize(
    ("text", "markup"),
    [
        ("15 11/16 in", '<span class="mixed">15 <span class="frac">11/16</span></span>\u00a0in'),
        ("1/2 in", '<span class="frac">1/2</span>\u00a0in'),
        ("12/25/2026", "12/25/2026"),
        ("3/7", "3/7"),
        ("<b>1/4", '&lt;b&gt;<span class="frac">1/4</span>'),
    ],
)
def test_fractions_of_a_tape_are_set_as_fractions_and_nothing_else_is(
    text: str, markup: str
) -> None:
    assert html.fractions(text) == markup


@pytest.mark.parametrize(
    ("form", "language", "words"),
    [
        ("day", "en_US", "Apr 25"),
        ("week", "en_US", "Sun, Apr 25"),
        ("year", "en_US", "April 25, 2027"),
        ("long", "en_US", "Sunday, April 25, 2027"),
        ("day", "es", "25 abr"),
        ("long", "es", "domingo, 25 de abril de 2027"),
    ],
)
def test_a_date_is_written_as_its_language_does(form: str, language: str, words: str) -> None:
    assert html.in_words(date(2027, 4, 25), language, form) == words


def test_a_time_of_day_is_written_as_its_language_does() -> None:
    assert html.on_the_clock(time(18, 0), "en_US") == "6:00 PM"
    assert html.on_the_clock(time(18, 0), "es") == "18:00"


def test_a_page_wants_every_word_of_its_template() -> None:
    with pytest.raises(UndefinedError):
        html.page("claim_check.html", language="en", title="Claim check")
