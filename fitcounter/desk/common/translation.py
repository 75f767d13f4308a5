"""Every sentence that a person reads, in that person's language.

The English sentence is the key; the catalogues (catalogues.py) hold the others. What is missing in
one is said in English.

`say` and `say_n` speak the language of whoever is served just now (`speaking`); a `Speech` speaks
the language it was made for, whoever is served: a customer's papers, printed by the shop.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from contextvars import ContextVar, Token
from datetime import date, datetime, time
from functools import cache, lru_cache
from typing import NamedTuple

from babel import Locale, UnknownLocaleError
from babel.dates import format_date, format_skeleton, format_time
from babel.lists import format_list
from babel.numbers import format_decimal, get_decimal_symbol
from babel.support import LazyProxy
from babel.units import format_unit

from fitcounter.desk.common.catalogues import catalogue, language_codes
from fitcounter.desk.shop import Shop
from fitcounter.errors import Sentence

_FIGURE = re.compile(r"[−-]?\d+\.\d+( ?(cm|mm|%))?")
_POINT = re.compile(r"(?<=\d)\.(?=\d)")

MOST_KEPT = 4096  # days and times in words


class Speech(NamedTuple):
    """One language; a tuple, because every field of a form is looked up by it.

    code: as in customers.language, "en" where there is no catalogue of it.
    country: of the locale that dates, hours and lists are written in ("US", "GB"); "" for the
    language's usual one. hours: "12" or "24", "" as the locale writes them.
    """

    code: str
    country: str = ""
    hours: str = ""

    @property
    def locale(self) -> str:
        """As Babel names it: en_US, es, es_ES."""
        country = self.country or ("US" if self.code == "en" else "")
        return f"{self.code}_{country}" if country else self.code

    def say(self, sentence: str, /, **values: object) -> str:
        """The sentence in this language with its {values} put in; the English one where the
        catalogue has none. The stop of "6:00 p. m." is the sentence's too.
        """
        said = catalogue(self.code).translations.gettext(sentence).format(**values)
        return said.replace("m..", "m.")

    def say_n(self, one: str, many: str, count: int, /, **values: object) -> str:
        """The sentence in the form that this language uses for `count` things; {count} is put in
        with the other {values}.
        """
        return self.form(one, many, count).format(count=count, **values)

    def form(self, one: str, many: str, count: int) -> str:
        """The sentence for `count` things in this language, with nothing put in yet."""
        return catalogue(self.code).translations.ngettext(one, many, count)

    def known(self, text: str) -> str:
        """A sentence of ours in this language, any other text as it is; nothing is put in."""
        return catalogue(self.code).translations.gettext(text) if text else text

    def told(self, text: str) -> str:
        """A message of a room that knows no languages, in this one; other text as it is."""
        if not isinstance(text, Sentence):
            return text
        values = {
            name: self._value(value) if isinstance(value, str) else value
            for name, value in text.values.items()
        }
        if text.many:
            return self.say_n(text.sentence, text.many, text.things, **values)
        return self.say(text.sentence, **values) if values else self.known(text.sentence)

    def _value(self, text: str) -> str:
        """What is put into a message: another one, a figure, or a name of the handbook."""
        if isinstance(text, Sentence):
            return self.told(text)
        return self.decimals(text) if _FIGURE.fullmatch(text) else self.known(text)

    def day(self, on: date) -> str:
        """Tue, Apr 14; Tue 14 Apr; mar, 14 abr."""
        return _day(self.locale, on)

    def day_of_year(self, on: date) -> str:
        """April 14, 2027; 14 April 2027; 14 de abril de 2027."""
        return format_date(on, "long", locale=self.locale)

    def long_day(self, on: date, *, year: bool = False) -> str:
        """Saturday, April 25; Saturday 25 April; sábado, 25 de abril. year: with it at the end."""
        form = "full" if year else _weekday_and_day(self.locale)
        return format_date(on, form, locale=self.locale)

    def short_weekday(self, on: date) -> str:
        """Sat; sáb."""
        return format_date(on, "EEE", locale=self.locale)

    def clock(self, at: datetime | time) -> str:
        """6:00 PM or 18:00. at: on the shop's own clock."""
        return _clock(self.locale, self.hours, at.hour, at.minute)

    def moment(self, at: datetime) -> str:
        """Tuesday, April 7, 10:20 AM; martes, 7 de abril, 10:20. at: on the shop's own clock."""
        both = str(Locale.parse(self.locale).datetime_formats["medium"])
        return both.replace("{1}", self.long_day(at.date())).replace("{0}", self.clock(at))

    def number(self, value: float, digits: int = 1) -> str:
        """6.5; 6,5: with at most so many decimals."""
        return format_decimal(round(value, digits), locale=self.locale).replace("-", "−")

    def decimals(self, text: str) -> str:
        """Text of figures with its decimal points as the locale has them: "36,5 cm"."""
        return _POINT.sub(_decimal_mark(self.locale), text)

    def minutes(self, count: int) -> str:
        """30 minutes, 1 minute, 2 hours; 30 minutos, 2 horas."""
        hours, over = divmod(count, 60)
        unit, number = ("minute", count) if over or not hours else ("hour", hours)
        return format_unit(number, f"duration-{unit}", "long", locale=self.locale)

    def days(self, count: float) -> str:
        """1 day, 6.5 days; 6,5 días."""
        return format_unit(round(count, 1), "duration-day", "long", locale=self.locale)

    def listed(self, things: Sequence[str]) -> str:
        """left boot, bag, and belt; bota izquierda, bolso y cinturón."""
        return format_list(things, locale=self.locale) if things else ""


@lru_cache(maxsize=MOST_KEPT)
def _day(locale: str, on: date) -> str:
    return format_skeleton("MMMEd", on, locale=locale)


@lru_cache(maxsize=MOST_KEPT)
def _clock(locale: str, hours: str, hour: int, minute: int) -> str:
    at = time(hour, minute)
    if hours in ("", hour_form(locale)):
        text = format_time(at, "short", locale=locale)
    else:
        text = format_skeleton("hm" if hours == "12" else "Hm", at, locale=locale)
    return text.replace("\u202f", " ")


_ENGLISH = Speech("en")
_SPOKEN: ContextVar[Speech] = ContextVar("speech", default=_ENGLISH)


@cache
def speech(code: str, locale: str = "", hours: str = "") -> Speech:
    """The language of this code; English where there is no catalogue of it.

    code: a language ("es"), or a locale ("en_GB"). locale: the shop's, whose country counts where
    it speaks the same language. hours: as in Speech.
    """
    language, _, country = code.partition("_")
    known = language if language in language_codes() else "en"
    spoken_there, _, there = locale.partition("_")
    country = country if known == language else ""
    country = country or (there if spoken_there == known else "")
    return Speech(known, country if is_locale(f"{known}_{country}") else "", hours)


def speech_at(shop: Shop, code: str = "") -> Speech:
    """How the shop speaks to somebody: days and hours as in its country.

    code: of their language; the shop's own for "" and for one that is not there.
    """
    known = code if code.partition("_")[0] in language_codes() else shop.locale
    return speech(known, shop.locale, shop.hours or hour_form(shop.locale))


@cache
def is_locale(code: str) -> bool:
    """Whether dates, hours and amounts can be written as this locale does."""
    try:
        Locale.parse(code)
    except (UnknownLocaleError, ValueError, TypeError):
        return False
    return True


@cache
def _decimal_mark(locale: str) -> str:
    return get_decimal_symbol(locale)


@cache
def _weekday_and_day(locale: str) -> str:
    """The pattern of a day with its weekday and month in full, without the year."""
    skeletons = Locale.parse(locale).datetime_skeletons
    known = (skeletons.get(one) for one in ("MMMMEEEEd", "MMMMEd", "MMMEd"))
    pattern = next(str(one.pattern) for one in known if one is not None)
    return re.sub(r"M{3,}", "MMMM", re.sub(r"[Ec]+", "EEEE", pattern))


@cache
def hour_form(locale: str) -> str:
    """ "12" where the locale writes hours as 6:00 PM, else "24"; "24" where there is none such."""
    if not is_locale(locale):
        return "24"
    pattern = str(Locale.parse(locale).time_formats["short"].pattern)
    return "12" if "a" in pattern or "B" in pattern else "24"


def spoken() -> Speech:
    """The language spoken just now; English where nobody said which."""
    return _SPOKEN.get()


@contextmanager
def speaking(language: Speech | str) -> Iterator[Speech]:
    """Whatever is said inside is said in this language."""
    before = speak(language)
    try:
        yield _SPOKEN.get()
    finally:
        speak_as_before(before)


def speak(language: Speech | str) -> Token[Speech]:
    """Whatever is said from here on is said in this language, until `speak_as_before` takes what
    this gives.
    """
    return _SPOKEN.set(speech(language) if isinstance(language, str) else language)


def speak_as_before(before: Token[Speech]) -> None:
    """The language spoken before a `speak`, whatever was spoken since."""
    _SPOKEN.reset(before)


def say(sentence: str, /, **values: object) -> str:
    """The sentence in the language spoken just now, with its {values} put in."""
    return _SPOKEN.get().say(sentence, **values)


def say_n(one: str, many: str, count: int, /, **values: object) -> str:
    """The sentence for `count` things in the language spoken just now; {count} is put in too."""
    return _SPOKEN.get().say_n(one, many, count, **values)


def told(text: str) -> str:
    """A message of a room that knows no languages, in the language spoken just now; other text as
    it is.
    """
    return _SPOKEN.get().told(text)


def say_later(sentence: str, /) -> str:
    """For a label made when a module is loaded: each time it is shown, it is said in the language
    spoken then.
    """
    return LazyProxy(say, sentence, enable_cache=False)  # type: ignore[return-value]


def marked(sentence: str, /) -> str:
    """The sentence as it is: found for the catalogue here, and said where it is used."""
    return sentence
