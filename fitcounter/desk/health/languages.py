"""Whether every sentence can be said in every language that somebody chose."""

from __future__ import annotations

from typing import NamedTuple

from fitcounter.desk.common.catalogues import catalogue, languages
from fitcounter.desk.common.translation import is_locale, say, say_n, spoken
from fitcounter.desk.shop import Shop
from fitcounter.store import customers
from fitcounter.store.database import Store


class LanguageHealth(NamedTuple):
    """words: how it stands; todo: what somebody has to do, "" for nothing."""

    words: str
    todo: str = ""


def look(store: Store, shop: Shop) -> LanguageHealth:
    """The first thing that is wrong, else the languages that there are."""
    if not is_locale(shop.locale) or shop.locale.partition("_")[0] not in languages():
        words = say("the shop’s language, {code}, is not there", code=shop.locale)
        return LanguageHealth(words, say("Pick another one under Shop, Settings."))
    for code, name in languages().items():
        read = catalogue(code)
        if not read.readable:
            words = say("{language} cannot be read: English stands in its place", language=name)
            return LanguageHealth(
                words, say("Put {file} back from the download.", file=f"{code}.po")
            )
        if read.faulty:
            words = say_n(
                "{language}: {count} sentence is broken and said in English",
                "{language}: {count} sentences are broken and said in English",
                len(read.faulty),
                language=name,
            )
            return LanguageHealth(
                words, say("Put {file} back from the download.", file=f"{code}.po")
            )
    missing = sorted(set(customers.languages_of(store)) - languages().keys())
    if missing:
        words = say(
            "no catalogue for customers’ languages: {codes}", codes=spoken().listed(missing)
        )
        return LanguageHealth(
            words, say("They read the shop’s language. Change it on their tickets.")
        )
    return LanguageHealth(spoken().listed(list(languages().values())))
