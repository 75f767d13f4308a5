"""What the customer reads, in her language: English sentences are the keys, a Babel catalogue a
language holds the others.

A language is added by one file, languages/<code>.po; a test finds every sentence that it does not
have.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, datetime
from functools import cache
from pathlib import Path

from babel import Locale
from babel.dates import format_date, format_time
from babel.messages.pofile import read_po

LANGUAGES_DIR = Path(__file__).resolve().parents[1] / "languages"


@dataclass(frozen=True, slots=True)
class Speech:
    """One language. code: as in customers.language, "en" where there is no catalogue of it."""

    code: str

    def say(self, sentence: str, /, **values: object) -> str:
        """The sentence in this language with its {values} put in; the English one where the
        catalogue has none.
        """
        return (_catalogue(self.code).get(sentence) or sentence).format(**values)

    def known(self, text: str) -> str:
        """A text of the shop's file in this language where it is a sentence of ours, otherwise as
        it is; nothing is put in.
        """
        return _catalogue(self.code).get(text) or text

    def day(self, on: date) -> str:
        """Tuesday 14 April; martes 14 de abril."""
        return format_date(
            on, "EEEE d MMMM" if self.code == "en" else "EEEE d 'de' MMMM", self.code
        )

    def clock(self, at: datetime) -> str:
        """6:00 PM or 18:00, as the language writes it. at: on her own clock."""
        return format_time(at, "short", locale="en_US" if self.code == "en" else self.code).replace(
            "\u202f", " "
        )


def speech(code: str) -> Speech:
    return Speech(code if code in languages() else "en")


@cache
def languages() -> dict[str, str]:
    """Every language there is, by code, under the name its speakers give it."""
    codes = ["en", *sorted(path.stem for path in LANGUAGES_DIR.glob("*.po"))]
    return {
        code: (Locale.parse(code).get_display_name(code) or code).capitalize() for code in codes
    }


@cache
def _catalogue(code: str) -> dict[str, str]:
    path = LANGUAGES_DIR / f"{code}.po"
    if code == "en" or not path.exists():
        return {}
    with path.open("rb") as file:
        return {
            str(one.id): str(one.string)
            for one in read_po(file, locale=code)
            if one.id and one.string
        }
