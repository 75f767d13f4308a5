"""How lengths, days and sums read on a page."""

from __future__ import annotations

from datetime import date

import pytest
from flask import Flask, render_template_string
from markupsafe import Markup

from fitcounter.desk.common.translation import speaking, speech
from fitcounter.web.pages import filters


@pytest.mark.parametrize(
    ("mm", "markup"),
    [
        (0, "0"),
        (25.4, "1"),
        (3.175, "⅛"),
        (384.175, "15⅛"),
        (373.0625, '<span class="frac">14\u2009<span>11</span>⁄<span>16</span></span>'),
        (7.9375, '<span class="frac"><span>5</span>⁄<span>16</span></span>'),
        (-6.35, "−¼"),
        (406.39, "16"),
        (-0.1, "0"),
    ],
)
def test_inches_are_set_as_true_fractions(mm: float, markup: str) -> None:
    """Halves to eighths are one character, sixteenths are composed, and whatever rounds to nought
    has no sign.
    """
    assert filters.inches(mm) == markup


def test_a_length_carries_its_unit_and_never_breaks_from_it() -> None:
    """Inches go to the sixteenth and centimetres to the millimetre, with a space that does not
    break.
    """
    assert filters.length(384.175, "in") == "15⅛\u00a0in"
    assert filters.length(384.175, "cm") == "38.4\u00a0cm"


def test_what_is_missing_is_rounded_up_and_room_is_rounded_down() -> None:
    """A boot short by a hair over a sixteenth asks for the next one; room is never overstated."""
    assert filters.short_by(15.9, "in") == "⅝\u00a0in".replace(
        "⅝", '<span class="frac"><span>11</span>⁄<span>16</span></span>'
    )
    assert filters.short_by(15.875, "in") == "⅝\u00a0in"
    assert filters.short_by(15.1, "cm") == "1.6\u00a0cm"
    assert filters.room(15.875, "in") == "⅝\u00a0in"
    assert (
        filters.room(15.8, "in")
        == '<span class="frac"><span>9</span>⁄<span>16</span></span>\u00a0in'
    )
    assert filters.room(15.9, "cm") == "1.5\u00a0cm"


def test_the_filter_length_counts_without_a_unit_and_says_a_length_with_one() -> None:
    """Templates keep the plain meaning of |length and gain lengths of leather."""
    app = Flask("page")
    filters.wire(app)
    with app.app_context():
        assert (
            render_template_string("{{ [1, 2]|length }} {{ 384.175|length('in') }}")
            == "2 15⅛\u00a0in"
        )


def test_fractions_inside_a_sentence_are_set_and_the_rest_is_escaped() -> None:
    """A sentence of the desk keeps its words, its fractions become fractions, and markup typed by
    anybody stays text.
    """
    assert filters.fraction_text("short by 1 1/8 at 12, <b>") == "short by 1⅛ at 12, &lt;b&gt;"
    assert (
        filters.fraction_text("15/16")
        == '<span class="frac"><span>15</span>⁄<span>16</span></span>'
    )
    assert "<span>3</span>" in filters.fraction_text("16-3/16")


@pytest.mark.parametrize("text", ["14/3/2026", "8/8", "0/4", "3/5", "2 of 2", "1/2/3", "145/8"])
def test_what_is_no_fraction_of_a_tape_is_left_alone(text: str) -> None:
    """Dates, wholes and other denominators are shown as they were written."""
    assert filters.fraction_text(text) == text


def test_days_and_moments_are_told_in_the_shops_zone() -> None:
    """An instant stored in UTC is shown as the day and hour on the shop's wall."""
    assert filters.day(date(2026, 4, 25)) == "Saturday, April 25"
    assert filters.day("2027-04-25", year=True) == "Sunday, April 25, 2027"
    assert filters.short_day("2026-04-25") == "Sat, Apr 25"
    at, zone = "2026-04-07T14:20:00Z", "America/Chicago"
    assert filters.moment(at, zone) == "Tuesday, April 7, 9:20 AM"
    assert filters.clock(at, zone) == "9:20 AM"
    assert filters.local_day("2026-04-08T03:00:00Z", "America/Chicago") == date(2026, 4, 7)


def test_a_page_in_spanish_has_its_days_hours_lengths_and_lists() -> None:
    """Also the decimal mark of a length and of a share."""
    at, zone = "2026-04-07T14:20:00Z", "Europe/Madrid"
    with speaking(speech("es_ES")):
        assert filters.day("2026-04-25") == "sábado, 25 de abril"
        assert filters.moment(at, zone) == "martes, 7 de abril, 16:20"
        assert filters.length(365, "cm") == "36,5\u00a0cm"
        assert filters.short_by(3, "cm") == "0,3\u00a0cm"


def test_markup_said_before_does_not_let_the_same_characters_through_as_text() -> None:
    """What a page has said is kept, and a name that looks like markup is still escaped."""
    assert filters.fraction_text(Markup("<b>1/2</b>")) == "<b>½</b>"
    assert filters.fraction_text("<b>1/2</b>") == "&lt;b&gt;½&lt;/b&gt;"
    assert filters.fraction_text(Markup("<b>1/2</b>")) == "<b>½</b>"
