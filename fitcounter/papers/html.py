"""The ink: templates/papers/ filled with the words of a record, escaped, as HTML.

A Jinja2 environment of our own, so that papers need nothing of the web. Every word that comes from
a record passes through `plain`, whatever the template does: no control character, no mark that
turns the direction of what follows.
"""

from __future__ import annotations

import re
import unicodedata
from contextvars import ContextVar
from datetime import date, time
from functools import cache
from typing import Any, Final, Protocol

from babel.dates import format_date, format_skeleton, format_time
from babel.numbers import get_decimal_symbol
from jinja2 import Environment, FileSystemLoader, StrictUndefined
from markupsafe import Markup, escape

from fitcounter.errors import Sentence
from fitcounter.settings import TEMPLATES

_FRACTION: Final = re.compile(
    r"(?:(?<![\d/])(\d{1,2})[ \u2009\u00a0-])?(?<![\d/])(\d{1,2}/(?:2|4|8|16|32|64))(?![\d/])"
)
_UNIT: Final = re.compile(r"(?<=[\d½¼¾⅛⅜⅝⅞]) (?=(?:in|cm|mm|h|%)(?!\w))")
_MOST_MARKS: Final = 4


class Say(Protocol):
    """Gives a sentence of ours in the reader's language, with its {values} put in.

    English sentences are the keys.
    """

    def __call__(self, sentence: str, /, **values: object) -> str: ...


def in_english(sentence: str, /, **values: object) -> str:
    """The sentence as it stands, with its {values} put in."""
    return sentence.format(**values)


_SAY: Final[ContextVar[Say]] = ContextVar("say", default=in_english)


def page(template: str, *, language: str, say: Say = in_english, **words: Any) -> str:
    """A template of this room filled in. In it, `_` says a sentence whose values may be markup."""

    def day(value: date, form: str = "day") -> str:
        return in_words(value, language, form)

    def with_markup(sentence: str, /, **values: object) -> Markup:
        holes = {name: f"{{{name}}}" for name in values}
        return Markup(escape(say(sentence, **holes))).format(**values)

    def decimals(text: str) -> str:
        if isinstance(text, Sentence):  # words, which are said in the language of the paper
            return text
        return text.replace(".", get_decimal_symbol(language))

    known = {"language": language, "say": say, "_": with_markup, "day": day, "decimals": decimals}
    _SAY.set(say)
    return _environment().get_template(template).render(**known, **words)


@cache
def raw(name: str) -> str:
    """A file of this room's templates as it is: the style and the script of the page to save."""
    return (TEMPLATES / "papers" / name).read_text(encoding="utf-8")


def in_words(value: date, language: str, form: str = "day") -> str:
    """A date for people, as the language writes it. language: as Babel names it: en_GB, es.

    form: "day" (Apr 25), "week" (Sat, Apr 25), "year" (April 25, 2027) or "long" (Sunday,
    April 25, 2027).
    """
    if form in ("year", "long"):
        return format_date(value, "long" if form == "year" else "full", locale=language)
    return format_skeleton("MMMd" if form == "day" else "MMMEd", value, locale=language)


def on_the_clock(value: time, language: str, hours: str = "") -> str:
    """A time of day: 6:00 PM, 18:00. language: as in `in_words`. hours: "12" or "24", "" as the
    language writes them.
    """
    if hours:
        text = format_skeleton("hm" if hours == "12" else "Hm", value, locale=language)
    else:
        text = format_time(value, "short", locale=language)
    return text.replace("\u202f", " ")


def _printed(value: object) -> object:
    """What is printed of a value: a message in the language of the paper, text made plain."""
    return plain(_told(value, _SAY.get()) if isinstance(value, Sentence) else value)


def _told(text: Sentence, say: Say) -> str:
    values = {
        name: _told(value, say) if isinstance(value, Sentence) else value
        for name, value in text.values.items()
    }
    return say(text.sentence, **values)


def plain(value: object) -> object:
    """Text without control characters, lone surrogates, direction marks and towers of accents;
    anything else as it is.

    Unicode categories Cc, Cf, Cs: a name must not turn the words after it around, nor stop the
    press. Mn, Me: a letter has as many marks as any script puts on it, and no more, or they would
    lie over its neighbours and past the edge of the page.
    """
    if not isinstance(value, str) or isinstance(value, Markup):
        return value
    kept: list[str] = []
    marks = 0
    for c in value:
        category = unicodedata.category(c)
        marks = marks + 1 if category in {"Mn", "Me"} else 0
        if marks <= _MOST_MARKS and (c in "\n\u00ad\u200d" or category not in {"Cc", "Cf", "Cs"}):
            kept.append(c)
    return "".join(kept)


def fractions(text: str) -> Markup:
    """Text with n/16 and its kind set as true fractions, close to the whole number and the unit; it
    still copies as "15 11/16".
    """
    return Markup(_FRACTION.sub(_set_fraction, _UNIT.sub("\u00a0", str(escape(plain(text))))))


def _set_fraction(found: re.Match[str]) -> str:
    """One fraction as markup, with its whole number where there is one."""
    whole, part = found.groups()
    fraction = f'<span class="frac">{part}</span>'
    return f'<span class="mixed">{whole} {fraction}</span>' if whole else fraction


@cache
def _environment() -> Environment:
    """Autoescape on, unknown names are errors, every printed word made plain."""
    environment = Environment(
        loader=FileSystemLoader([TEMPLATES / "papers", TEMPLATES]),  # drawings lie in the latter
        autoescape=True,
        undefined=StrictUndefined,
        finalize=_printed,
        trim_blocks=True,
        lstrip_blocks=True,
    )
    environment.filters["fractions"] = fractions
    return environment
