"""How a length, a day, a moment and a sum look on a page.

Fractions are set as fractions; dates and money follow CLDR (Babel).
"""

from __future__ import annotations

import math
import re
from datetime import date, datetime
from fractions import Fraction
from functools import lru_cache
from typing import Any
from zoneinfo import ZoneInfo

from flask import Flask
from markupsafe import Markup, escape

from fitcounter.desk.common import item_words, money
from fitcounter.desk.common.translation import Speech, say, spoken, told
from fitcounter.desk.customer import phrases
from fitcounter.desk.tickets import page as tickets_page
from fitcounter.desk.trees.trees import SIDES as TREE_SIDES
from fitcounter.errors import Sentence
from fitcounter.fit.assessment import safety_warnings
from fitcounter.fit.assessment.words import on_shaper
from fitcounter.fit.handbook import leg as book
from fitcounter.fit.handbook import plausible
from fitcounter.fit.tagcode import show_code
from fitcounter.fit.tape import (
    frac_parts,
    height_as_marked,
    room_inches,
    say_short_by,
    short_by_inches,
)
from fitcounter.web.pages.amounts import listed, number, owed, percent
from fitcounter.web.pages.sentences import (
    decimals,
    inline,
    say_n_on_page,
    say_on_page,
    script_words,
)

Length = float | Fraction
# words that are kept once they are made: a page says the same days and fractions again and again
KEPT = 2048

# The characters that every phone's letters have; the other denominators are composed from two small
# figures.
VULGAR = {(1, 2): "½", (1, 4): "¼", (3, 4): "¾", (1, 8): "⅛", (3, 8): "⅜", (5, 8): "⅝", (7, 8): "⅞"}
_TYPED = re.compile(
    r"(?<![\d/⁄.,])(?:(\d{1,3})[\s\u00a0-]+)?(\d{1,2})[/⁄](2|4|8|16|32|64)(?![\d/⁄.,]\d)"
)

_UNIT = re.compile(r"(?<=[\d½¼¾⅛⅜⅝⅞]) (?=(?:in|cm|mm|h|%)(?![\w]))")


def fraction(whole: int, numerator: int, denominator: int) -> Markup:
    """A mixed number as it stands on a tape: 15⅛, 14 11⁄16 with small figures, 0 as 0.

    Reads aloud as typed.
    """
    lead = "" if whole == 0 and numerator else str(whole)
    if not numerator:
        return Markup(lead)
    if (numerator, denominator) in VULGAR:
        return Markup(lead + VULGAR[numerator, denominator])
    thin = (
        "\u2009" if lead else ""
    )  # without it 15 11/16 reads as 1511/16; inside, so that no line ends between the two
    return Markup('<span class="frac">{}{}<span>{}</span>⁄<span>{}</span></span>').format(
        lead, thin, numerator, denominator
    )


def inches(mm: Length) -> Markup:
    """A length in inches to the nearest sixteenth.

    mm: any size; a negative one gets a minus sign.
    """
    whole, numerator, denominator = frac_parts(-mm if mm < 0 else mm)
    sign = "−" if mm < 0 and (whole or numerator) else ""
    return Markup(sign) + fraction(whole, numerator, denominator)


def length(mm: Length, unit: str) -> Markup:
    """A length with its unit, 'in' or 'cm': sixteenths of an inch, or whole millimetres written as
    centimetres.
    """
    return inches(mm) + "\u00a0in" if unit == "in" else Markup(_centimeters(float(mm) / 10))


def short_by(mm: Length, unit: str) -> Markup:
    """What a boot is short by, with its unit, rounded up so that it never promises too little."""
    if unit == "in":
        return fraction_text(short_by_inches(mm)) + "\u00a0in"
    return Markup(spoken().decimals(say_short_by(mm, "cm").replace(" ", "\u00a0")))


def room(mm: Length, unit: str) -> Markup:
    """The room a boot has, with its unit, rounded down. mm: how much wider than wanted."""
    if unit == "in":
        return fraction_text(room_inches(mm)) + "\u00a0in"
    return Markup(_centimeters(max(0, math.floor(float(mm) + 1e-6)) / 10))


def _centimeters(value: float) -> str:
    return spoken().decimals(f"{value:.1f}\u00a0cm".replace("-", "−"))


def fraction_text(text: str) -> Markup:
    """Plain text with every fraction of a tape set as one: 'short by 1 3/16', and no line's end
    between a figure and its unit.

    Everything else is escaped.
    """
    return _fractions(told(text) if isinstance(text, Sentence) else text)


@lru_cache(
    maxsize=KEPT, typed=True
)  # typed: markup and the same characters as plain text are not the same
def _fractions(text: str) -> Markup:
    text = type(text)(_UNIT.sub("\u00a0", text))
    out, end = Markup(""), 0
    for found in _TYPED.finditer(text):
        whole, numerator, denominator = (int(part or 0) for part in found.groups())
        if not 0 < numerator < denominator:
            continue
        out += escape(text[end : found.start()]) + fraction(whole, numerator, denominator)
        end = found.end()
    return out + escape(text[end:])


def day(on: date | str, year: bool = False) -> str:
    """Saturday, April 25; with the year where the day may be far off. on: a date or its ISO
    text.
    """
    return _day(spoken(), on, year)


def short_day(on: date | str) -> str:
    """Sat, Apr 25: for the margin of a ledger and for tables."""
    return _short_day(spoken(), on)


def moment(at: datetime | str, zone: str) -> str:
    """Tuesday, April 7, 10:20 AM in the shop's zone. at: an aware datetime or UTC text."""
    return _moment(spoken(), at, zone)


def clock(at: datetime | str, zone: str) -> str:
    """10:20 AM in the shop's zone."""
    return spoken().clock(_local(at, zone))


@lru_cache(maxsize=KEPT)
def _day(words: Speech, on: date | str, year: bool) -> str:
    return words.long_day(_date(on), year=year)


@lru_cache(maxsize=KEPT)
def _short_day(words: Speech, on: date | str) -> str:
    return words.day(_date(on))


@lru_cache(maxsize=KEPT)
def _moment(words: Speech, at: datetime | str, zone: str) -> str:
    return words.moment(_local(at, zone))


@lru_cache(maxsize=KEPT)
def local_day(at: datetime | str, zone: str) -> date:
    """The shop's day on which an instant falls."""
    return _local(at, zone).date()


def price_line_of(line: Any) -> str:
    """A price line of ours in the language spoken now, one that was typed as it is; with the
    reason of a discount.
    """
    return phrases.line_of(line, spoken())


def device(kept: str) -> str:
    """ "Chrome on Android", "some device": a device in the list of sessions. kept: as stored."""
    browser, on, system = kept.partition(" on ")
    if on:
        return say("{browser} on {system}", browser=browser, system=system)
    return kept or say("some device")


def tree_side(side: str) -> str:
    """ "Left boots": what a tree is for. side: as stored."""
    return str(dict(TREE_SIDES)[side])


def slip_rules() -> dict[str, object]:
    """The handbook's figures that the phone needs to ask about a slip at once, without network.

    Lengths in mm.
    """
    return {
        "inch_within": plausible.INCH_SLIP_WITHIN_MM,
        "agree": book.AGREE_MM,
        "agree_close": book.AGREE_CLOSE_MM,
        "sides_differ": plausible.SIDES_DIFFER_MM,
        "copied_from": plausible.COPIED_FROM,
        "last_room": plausible.LAST_ROOM_MM,
        "unit_slip": plausible.UNIT_SLIP,
        "ordinary": (plausible.ASK_UNDER_MM["small"], plausible.REFUSE_MM["below-knee"][1]),
        "refuse": plausible.REFUSE_MM,
        "ask_under": plausible.ASK_UNDER_MM,
        "ask_over": plausible.ASK_OVER_MM,
    }


ITEM_WORDS = {
    one.__name__: one
    for one in (
        item_words.item_word,
        item_words.state_word,
        item_words.on_hold,
        item_words.stands,
        item_words.state_of,
    )
}
# How a record of the desk is said.
OF_RECORDS = {
    "name_of": tickets_page.name_of,
    "price_line_of": price_line_of,
}


def wire(app: Flask) -> None:
    """Makes the functions filters of every template.

    `|length` alone still counts, with a unit it says a length.
    """
    count = app.jinja_env.filters["length"]

    def length_or_count(value: Any, unit: str = "") -> Any:
        return length(value, unit) if unit else count(value)

    app.jinja_env.finalize = _said
    app.jinja_env.filters.update(
        length=length_or_count,
        inches=inches,
        as_marked=height_as_marked,
        short_by=short_by,
        room=room,
        fraction_text=fraction_text,
        day=day,
        short_day=short_day,
        moment=moment,
        clock=clock,
        local_day=local_day,
        money=money.say,
        owed=owed,
        number=number,
        percent=percent,
        listed=listed,
        tag_code=show_code,
        on_shaper=on_shaper,
        **ITEM_WORDS,
        tree_side=tree_side,
        device=device,
        **OF_RECORDS,
    )
    app.jinja_env.globals.update(
        slip_rules=slip_rules(),
        cautions=safety_warnings,
        script_words=script_words,
        decimals=decimals,
        _=say_on_page,
        n_=say_n_on_page,
        inline=inline,
    )


def _said(value: object) -> object:
    """A message of a room that knows no languages is said in the page's."""
    return told(value) if isinstance(value, Sentence) else value


def _date(on: date | str) -> date:
    return date.fromisoformat(on) if isinstance(on, str) else on


def _local(at: datetime | str, zone: str) -> datetime:
    instant = datetime.fromisoformat(at) if isinstance(at, str) else at
    return instant.astimezone(ZoneInfo(zone))
