"""Every sentence that a person reads, in that person's language.

The English sentence is the key; languages/<code>.po holds the others (gettext, read by Babel). A
language is added by one file, without a line of code. What is missing in it is said in English.

`say` and `say_n` speak the language of whoever is served just now (`speaking`); a `Speech` speaks
the language it was made for, whoever is served: a customer's papers, printed by the shop.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from contextvars import ContextVar
from dataclasses import dataclass
from datetime import date, datetime, time
from functools import cache
from io import BytesIO
from pathlib import Path

from babel import Locale
from babel.dates import format_date, format_skeleton, format_time
from babel.lists import format_list
from babel.messages.mofile import write_mo
from babel.messages.pofile import read_po
from babel.support import LazyProxy, NullTranslations, Translations
from babel.units import format_unit

LANGUAGES_DIR = Path(__file__).resolve().parents[1] / "languages"


@dataclass(frozen=True, slots=True)
class Speech:
    """One language. code: as in customers.language, "en" where there is no catalogue of it.

    country: of the locale that dates, hours and lists are written in ("US", "GB"); "" for the
    language's usual one.
    """

    code: str
    country: str = ""

    @property
    def locale(self) -> str:
        """As Babel names it: en_US, es, es_ES."""
        country = self.country or ("US" if self.code == "en" else "")
        return f"{self.code}_{country}" if country else self.code

    def say(self, sentence: str, /, **values: object) -> str:
        """The sentence in this language with its {values} put in; the English one where the
        catalogue has none.
        """
        return _translations(self.code).gettext(sentence).format(**values)

    def say_n(self, one: str, many: str, count: int, /, **values: object) -> str:
        """The sentence in the form that this language uses for `count` things; {count} is put in
        with the other {values}.
        """
        return self.form(one, many, count).format(count=count, **values)

    def form(self, one: str, many: str, count: int) -> str:
        """The sentence for `count` things in this language, with nothing put in yet."""
        return _translations(self.code).ngettext(one, many, count)

    def known(self, text: str) -> str:
        """A sentence of ours in this language, any other text as it is; nothing is put in."""
        return _translations(self.code).gettext(text) if text else text

    def day(self, on: date) -> str:
        """Tue, Apr 14; Tue 14 Apr; mar, 14 abr."""
        return format_skeleton("MMMEd", on, locale=self.locale)

    def day_of_year(self, on: date) -> str:
        """April 14, 2027; 14 April 2027; 14 de abril de 2027."""
        return format_date(on, "long", locale=self.locale)

    def clock(self, at: datetime | time) -> str:
        """6:00 PM or 18:00, as the locale writes it. at: on the shop's own clock."""
        return format_time(at, "short", locale=self.locale).replace("\u202f", " ")

    def minutes(self, count: int) -> str:
        """30 minutes, 1 minute, 2 hours; 30 minutos, 2 horas."""
        hours, over = divmod(count, 60)
        unit, number = ("minute", count) if over or not hours else ("hour", hours)
        return format_unit(number, f"duration-{unit}", "long", locale=self.locale)

    def listed(self, things: Sequence[str]) -> str:
        """left boot, bag, and belt; bota izquierda, bolso y cinturón."""
        return format_list(things, locale=self.locale) if things else ""


_ENGLISH = Speech("en")
_SPOKEN: ContextVar[Speech] = ContextVar("speech", default=_ENGLISH)


def speech(code: str, locale: str = "") -> Speech:
    """The language of this code; English where there is no catalogue of it.

    code: a language ("es"), or a locale ("en_GB"). locale: the shop's, whose country counts where
    it speaks the same language.
    """
    language, _, country = code.partition("_")
    known = language if language in languages() else "en"
    spoken_there, _, there = locale.partition("_")
    return Speech(known, country or (there if spoken_there == known else ""))


def spoken() -> Speech:
    """The language spoken just now; English where nobody said which."""
    return _SPOKEN.get()


@contextmanager
def speaking(code: str) -> Iterator[Speech]:
    """Whatever is said inside is said in this language."""
    before = _SPOKEN.set(speech(code))
    try:
        yield _SPOKEN.get()
    finally:
        _SPOKEN.reset(before)


def say(sentence: str, /, **values: object) -> str:
    """The sentence in the language spoken just now, with its {values} put in."""
    return _SPOKEN.get().say(sentence, **values)


def say_n(one: str, many: str, count: int, /, **values: object) -> str:
    """The sentence for `count` things in the language spoken just now; {count} is put in too."""
    return _SPOKEN.get().say_n(one, many, count, **values)


def say_later(sentence: str, /) -> str:
    """For a label made when a module is loaded: each time it is shown, it is said in the language
    spoken then.
    """
    return LazyProxy(say, sentence, enable_cache=False)  # type: ignore[return-value]


def marked(sentence: str, /) -> str:
    """The sentence as it is: found for the catalogue here, and said where it is used."""
    return sentence


@cache
def languages() -> dict[str, str]:
    """Every language there is, by code, under the name its speakers give it."""
    codes = ["en", *sorted(path.stem for path in LANGUAGES_DIR.glob("*.po"))]
    return {
        code: (Locale.parse(code).get_display_name(code) or code).capitalize() for code in codes
    }


@cache
def _translations(code: str) -> NullTranslations:
    path = LANGUAGES_DIR / f"{code}.po"
    if code == "en" or not path.exists():
        return NullTranslations()
    compiled = BytesIO()
    with path.open("rb") as file:
        write_mo(compiled, read_po(file, locale=code))
    compiled.seek(0)
    return Translations(compiled)
