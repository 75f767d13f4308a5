"""How a length, a day, a moment and a sum look on a page.

Fractions are set as fractions; dates and money follow CLDR (Babel).
"""

from __future__ import annotations

import math
import re
from collections.abc import Iterable
from copy import copy
from datetime import date, datetime
from decimal import Decimal
from fractions import Fraction
from functools import lru_cache
from typing import Any, Literal
from zoneinfo import ZoneInfo

from babel import Locale
from babel.dates import format_date, format_datetime, format_time
from babel.lists import format_list
from babel.numbers import (
    format_currency,
    format_decimal,
    format_percent,
    get_currency_precision,
)
from flask import Flask
from markupsafe import Markup, escape

from fitcounter.desk.bench.trees import SIDES as TREE_SIDES
from fitcounter.desk.common import item_words, translation
from fitcounter.fit.assessment import cautions
from fitcounter.fit.assessment.words import on_shaper
from fitcounter.fit.handbook import leg as book
from fitcounter.fit.handbook import plausible
from fitcounter.fit.tagcode import show_code
from fitcounter.fit.tape import frac_parts, room_inches, say_short_by, short_by_inches

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
    return (
        inches(mm) + "\u00a0in"
        if unit == "in"
        else Markup(f"{float(mm) / 10:.1f}\u00a0cm".replace("-", "−"))
    )


def short_by(mm: Length, unit: str) -> Markup:
    """What a boot is short by, with its unit, rounded up so that it never promises too little."""
    if unit == "in":
        return fraction_text(short_by_inches(mm)) + "\u00a0in"
    return Markup(say_short_by(mm, "cm").replace(" ", "\u00a0"))


def room(mm: Length, unit: str) -> Markup:
    """The room a boot has, with its unit, rounded down. mm: how much wider than wanted."""
    if unit == "in":
        return fraction_text(room_inches(mm)) + "\u00a0in"
    return Markup(f"{max(0, math.floor(float(mm) + 1e-6)) / 10:.1f}\u00a0cm")


@lru_cache(
    maxsize=KEPT, typed=True
)  # typed: markup and the same characters as plain text are not the same
def fraction_text(text: str) -> Markup:
    """Plain text with every fraction of a tape set as one: 'short by 1 3/16', and no line's end
    between a figure and its unit.

    Everything else is escaped.
    """
    text = type(text)(_UNIT.sub("\u00a0", text))
    out, end = Markup(""), 0
    for found in _TYPED.finditer(text):
        whole, numerator, denominator = (int(part or 0) for part in found.groups())
        if not 0 < numerator < denominator:
            continue
        out += escape(text[end : found.start()]) + fraction(whole, numerator, denominator)
        end = found.end()
    return out + escape(text[end:])


@lru_cache(maxsize=KEPT)
def day(on: date | str, locale: str = "en", year: bool = False) -> str:
    """Saturday 25 April; with the year where the day may be far off. on: a date or its ISO text."""
    return format_date(_date(on), "EEEE d MMMM y" if year else "EEEE d MMMM", locale)


@lru_cache(maxsize=KEPT)
def short_day(on: date | str, locale: str = "en") -> str:
    """Sat 25 Apr: for the margin of a ledger and for tables."""
    return format_date(_date(on), "EEE d MMM", locale)


@lru_cache(maxsize=KEPT)
def moment(at: datetime | str, zone: str, locale: str = "en") -> str:
    """Tuesday 7 April, 10:20 in the shop's zone. at: an aware datetime or UTC text as stored."""
    return format_datetime(_local(at, zone), "EEEE d MMMM, H:mm", locale=locale)


@lru_cache(maxsize=KEPT)
def clock(at: datetime | str, zone: str, locale: str = "en") -> str:
    """10:20 in the shop's zone."""
    return format_time(_local(at, zone), "H:mm", locale=locale)


@lru_cache(maxsize=KEPT)
def local_day(at: datetime | str, zone: str) -> date:
    """The shop's day on which an instant falls."""
    return _local(at, zone).date()


def money(minor: int, currency: str, locale: str = "en") -> str:
    """A sum as the locale writes it, with its minor digits.

    minor: whole minor units; currency: ISO 4217.
    """
    return format_currency(_major(minor, currency), currency, locale=locale).replace("-", "−")


def owed(minor: int, currency: str, locale: str = "en") -> str:
    """The same without its minor digits where they are nought: owes $45."""
    if minor % 10 ** get_currency_precision(currency):
        return money(minor, currency, locale)
    pattern = copy(Locale.parse(locale).currency_formats["standard"])
    pattern.frac_prec = (0, 0)
    text = format_currency(
        _major(minor, currency), currency, format=pattern, locale=locale, currency_digits=False
    )
    return text.replace("-", "−")


def number(value: float, locale: str = "en", digits: int = 1) -> str:
    """A figure with at most so many decimals, written as the locale does."""
    return format_decimal(round(value, digits), locale=locale).replace("-", "−")


def percent(share: float, locale: str = "en") -> str:
    """A share in whole percent, written as the locale does: 66% or 66 %. share: 1 is all."""
    return format_percent(round(share, 2), locale=locale)


def listed(parts: Iterable[object], locale: str = "en") -> str:
    """Parts as the locale writes a list: 20, 21 and 22."""
    return format_list([str(part) for part in parts], locale=locale)


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
        "unit_slip": plausible.UNIT_SLIP,
        "ordinary": (plausible.ASK_UNDER_MM["small"], plausible.REFUSE_MM["below-knee"][1]),
        "refuse": plausible.REFUSE_MM,
        "ask_under": plausible.ASK_UNDER_MM,
        "ask_over": plausible.ASK_OVER_MM,
    }


def wire(app: Flask) -> None:
    """Makes the functions filters of every template.

    `|length` alone still counts, with a unit it says a length.
    """
    count = app.jinja_env.filters["length"]

    def length_or_count(value: Any, unit: str = "") -> Any:
        return length(value, unit) if unit else count(value)

    app.jinja_env.filters.update(
        length=length_or_count,
        inches=inches,
        short_by=short_by,
        room=room,
        fraction_text=fraction_text,
        day=day,
        short_day=short_day,
        moment=moment,
        clock=clock,
        local_day=local_day,
        money=money,
        owed=owed,
        number=number,
        percent=percent,
        listed=listed,
        tag_code=show_code,
        on_shaper=on_shaper,
        item_word=item_words.item_word,
        state_word=item_words.state_word,
        tree_side=tree_side,
    )
    app.jinja_env.globals.update(
        slip_rules=slip_rules(), cautions=cautions, _=say_on_page, n_=say_n_on_page, inline=inline
    )


def say_on_page(sentence: str, /, **values: Any) -> Markup:
    """A sentence of ours with its {values} put in; those that are no markup are escaped."""
    return _safe(translation.spoken().known(sentence)).format(**values)


def say_n_on_page(one: str, many: str, count: int, /, **values: Any) -> Markup:
    """The sentence for `count` things; {count} is put in with the other {values}."""
    sentence = translation.spoken().form(one, many, count)
    return _safe(sentence).format(count=count, **values)


def inline(tag: Literal["span", "s", "code"], text: object, kind: str = "") -> Markup:
    """A value of a sentence that is set apart on the page; kind: its class."""
    of_class = Markup(' class="{}"').format(kind) if kind else ""
    return Markup("<{0}{1}>{2}</{0}>").format(tag, of_class, text)


def _safe(sentence: str) -> Markup:
    """A sentence of the catalogue for text and for an attribute in double quotes, as pages set
    them; an apostrophe stays one.
    """
    return Markup(
        sentence.replace("&", "&amp;")
        .replace("<", "&lt;")
        .replace(">", "&gt;")
        .replace('"', "&#34;")
    )


def _date(on: date | str) -> date:
    return date.fromisoformat(on) if isinstance(on, str) else on


def _local(at: datetime | str, zone: str) -> datetime:
    instant = datetime.fromisoformat(at) if isinstance(at, str) else at
    return instant.astimezone(ZoneInfo(zone))


def _major(minor: int, currency: str) -> Decimal:
    return Decimal(minor).scaleb(-get_currency_precision(currency))
