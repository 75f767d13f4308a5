"""What the customer reads exists in every language that is offered."""

from __future__ import annotations

import string
from datetime import date, time

import pytest
from babel.messages.catalog import Message
from babel.messages.pofile import read_po
from support import catalogue
from support.paths import CHECKOUT

from fitcounter.desk.common import translation
from fitcounter.desk.customer import phrases

CODE = (
    "desk/aftercare/follow_ups.py",
    "desk/common/thing_names.py",
    "desk/customer/*.py",
    "desk/documents/calendar.py",
    "desk/documents/customer.py",
    "desk/documents/ticket.py",
    "desk/front_desk/calls.py",
    "papers/calendar_days.py",
    "papers/calendar_pdf.py",
    "papers/claim.py",
    "papers/letters.py",
    "papers/saved_page.py",
    "web/customer/*.py",
    "web/link_throttle.py",
)
PAPERS = (
    "_base",
    "_parts",
    "calendar",
    "claim",
    "consent",
    "leg_card",
    "notice",
    "receipt",
    "saved",
)


def sentences() -> set[str]:
    """Every sentence that a customer may read: on the page, on papers, in texts."""
    code = [path for pattern in CODE for path in (CHECKOUT / "fitcounter").glob(pattern)]
    papers = [CHECKOUT / "templates" / "papers" / f"{name}.html" for name in PAPERS]
    pages = [*(CHECKOUT / "templates" / "customer").glob("*.html"), *papers]
    found = {one.text for one in catalogue.sentences((*code, *pages))}
    return found | phrases.ours()


def strings(entry: Message) -> list[str]:
    """The sentence in the other language; of one that counts things, each of its forms."""
    return [entry.string] if isinstance(entry.string, str) else list(entry.string)


@pytest.mark.parametrize("code", [code for code in translation.languages() if code != "en"])
def test_no_sentence_is_missing_and_none_is_left_over(code: str):
    said = sentences()
    assert len(said) > 60
    with (translation.LANGUAGES_DIR / f"{code}.po").open("rb") as file:
        entries = list(read_po(file, locale=code))
    ids = (entry.id for entry in entries if entry.id)
    assert said == {one if isinstance(one, str) else one[0] for one in ids}
    lacking = [entry for entry in entries if not all(strings(entry))]
    assert not [entry.id for entry in entries if entry.id and (entry.fuzzy or entry in lacking)]


@pytest.mark.parametrize("code", [code for code in translation.languages() if code != "en"])
def test_each_translation_puts_in_the_same_values(code: str):
    def values(text: str) -> set[str]:
        return {name for _, name, _, _ in string.Formatter().parse(text) if name}

    spoken = translation.Speech(code)
    for sentence in sentences():
        names = values(sentence)
        for one in names:
            assert "<here>" in spoken.say(
                sentence, **{name: "<here>" if name == one else "" for name in names}
            ), sentence


@pytest.mark.parametrize(
    ("language", "shop", "day", "year", "clock", "things"),
    [
        ("en", "en_US", "Tue, Apr 14", "April 14, 2026", "6:00 PM", "bag, belt, and shoes"),
        ("en", "en_GB", "Tue 14 Apr", "14 April 2026", "18:00", "bag, belt and shoes"),
        ("en", "es_ES", "Tue, Apr 14", "April 14, 2026", "6:00 PM", "bag, belt, and shoes"),
        ("es", "en_US", "mar, 14 abr", "14 de abril de 2026", "18:00", "bag, belt y shoes"),
        ("es", "es_ES", "mar, 14 abr", "14 de abril de 2026", "18:00", "bag, belt y shoes"),
        ("en_GB", "", "Tue 14 Apr", "14 April 2026", "18:00", "bag, belt and shoes"),
    ],
)
def test_days_hours_and_lists_are_written_as_the_language_and_the_country_do(
    language: str, shop: str, day: str, year: str, clock: str, things: str
):
    words = translation.speech(language, shop)
    on = date(2026, 4, 14)

    assert (words.day(on), words.day_of_year(on)) == (day, year)
    assert words.clock(time(18)) == clock
    assert words.listed(["bag", "belt", "shoes"]) == things


def test_minutes_are_counted_in_words():
    assert [translation.speech("en").minutes(n) for n in (1, 30)] == ["1 minute", "30 minutes"]
    assert [translation.speech("es").minutes(n) for n in (1, 30)] == ["1 minuto", "30 minutos"]


def test_an_unknown_language_is_english():
    assert translation.speech("tlh").code == "en"
    assert translation.speech("../../etc").code == "en"


def test_what_is_said_follows_the_language_of_whoever_is_served() -> None:
    with translation.speaking("es"):
        assert translation.say("At the foot") == "En el pie"
        with translation.speaking("en"):
            assert translation.say("At the foot") == "At the foot"
        assert translation.say("At the foot") == "En el pie"
    assert translation.say("At the foot") == "At the foot"


def test_a_label_made_at_the_start_is_said_in_the_language_of_the_moment() -> None:
    label = translation.say_later("At the foot")

    with translation.speaking("es"):
        assert str(label) == "En el pie"
    assert str(label) == "At the foot"


def test_a_number_of_things_has_its_own_form() -> None:
    def rounds(count: int) -> str:
        return translation.say_n("{count} round", "{count} rounds", count)

    assert [rounds(0), rounds(1), rounds(2)] == ["0 rounds", "1 round", "2 rounds"]
