"""The catalogues: languages/<code>.po holds every sentence in one language (gettext, by Babel).

A language is added by one file, without a line of code. The English sentence is the key; what is
missing, or would put in other values, is said in English.
"""

from __future__ import annotations

import string
from functools import cache
from io import BytesIO
from pathlib import Path
from typing import NamedTuple

from babel import Locale, UnknownLocaleError
from babel.messages.catalog import Catalog, Message
from babel.messages.mofile import write_mo
from babel.messages.pofile import PoFileError, read_po
from babel.support import NullTranslations, Translations

LANGUAGES_DIR = Path(__file__).resolve().parents[1] / "languages"


class Read(NamedTuple):
    """A catalogue as it was read. faulty: English sentences that are not said in this language,
    because theirs would put in other values; readable: the file is a catalogue at all.
    """

    translations: NullTranslations
    faulty: tuple[str, ...] = ()
    readable: bool = True


@cache
def language_codes() -> tuple[str, ...]:
    """The code of every language there is, English first."""
    found = [path.stem for path in LANGUAGES_DIR.glob("*.po") if _is_language(path.stem)]
    return ("en", *sorted(found))


@cache
def languages() -> dict[str, str]:
    """Every language there is, by code, under the name its speakers give it. Reads all that is
    known of each; whether there is one, `language_codes` tells.
    """
    return {
        code: (Locale.parse(code).get_display_name(code) or code).capitalize()
        for code in language_codes()
    }


@cache
def catalogue(code: str) -> Read:
    """The sentences of a language; English ones where there is no file of it."""
    path = LANGUAGES_DIR / f"{code}.po"
    if code == "en" or code not in language_codes():
        return Read(NullTranslations())
    try:
        with path.open("rb") as file:
            held = read_po(file, locale=code)
        faulty = tuple(_first(one) for one in held if one.id and not _same_values(one))
        for sentence in faulty:
            held.delete(sentence)
        return Read(_compiled(held), faulty)
    except (OSError, UnicodeDecodeError, PoFileError, ValueError):
        return Read(NullTranslations(), readable=False)


def _compiled(held: Catalog) -> Translations:
    compiled = BytesIO()
    write_mo(compiled, held)
    compiled.seek(0)
    return Translations(compiled)


def _is_language(code: str) -> bool:
    try:
        Locale.parse(code)
    except (UnknownLocaleError, ValueError):
        return False
    return True


def _first(entry: Message) -> str:
    return entry.id if isinstance(entry.id, str) else entry.id[0]


def _same_values(entry: Message) -> bool:
    """Whether every form puts in the values of the English sentence and no others."""
    held = entry.string or ""
    forms = (held,) if isinstance(held, str) else tuple(held)
    try:
        wanted = values_in(_first(entry))
        return all(values_in(form) == wanted for form in forms if form)
    except ValueError:  # a brace that is not closed
        return False


def values_in(sentence: str) -> set[str]:
    """The names of the values that a sentence puts in. Raises ValueError for a broken hole."""
    return {name for _, name, _, _ in string.Formatter().parse(sentence) if name is not None}
