"""What the customer reads exists in every language that is offered."""

from __future__ import annotations

import string
from datetime import date, datetime

import pytest
from babel.messages.pofile import read_po
from support import catalogue
from support.paths import CHECKOUT

from fitcounter.desk.common import translation
from fitcounter.desk.customer import calendar as customer_calendar
from fitcounter.desk.customer import page as customer_page
from fitcounter.desk.customer import phrases
from fitcounter.web.customer import page as customer


def sentences() -> set[str]:
    """Every sentence that is said: in her templates, and by the desk and the web room."""
    rooms = {
        "desk": (
            "front_desk/calls.py",
            "customer/page.py",
            "customer/calendar.py",
            "customer/phrases.py",
            "documents/ticket.py",
            "documents/customer.py",
        ),
        "web": ("customer/page.py",),
        "papers": (
            "calendar_days.py",
            "calendar_pdf.py",
            "claim.py",
            "letters.py",
            "saved_page.py",
        ),
    }
    code = [
        CHECKOUT / "fitcounter" / room / name for room, names in rooms.items() for name in names
    ]
    papers = (CHECKOUT / "templates" / "papers").glob("*.html")
    pages = [*(CHECKOUT / "templates" / "customer").glob("*.html"), *papers]
    found = {one.text for one in catalogue.sentences((*code, *pages))}
    grew = {"The left boot grew {size}.", "The right boot grew {size}."}
    return (
        found
        | grew
        | phrases.ours()
        | set(customer_page.WHERE.values())
        | set(phrases.NAMES.values())
        | set(customer_calendar.TEXTS.values())
        | set(customer.SIDES.values())
        | set(customer.PLACES.values())
        | {customer.NOT_SURE}
    )


@pytest.mark.parametrize("code", [code for code in translation.languages() if code != "en"])
def test_no_sentence_is_missing_and_none_is_left_over(code: str):
    said = sentences()
    assert len(said) > 60
    with (translation.LANGUAGES_DIR / f"{code}.po").open("rb") as file:
        assert said == {entry.id for entry in read_po(file, locale=code) if entry.id}


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


def test_days_and_hours_are_written_as_the_language_does():
    at = datetime(2026, 4, 14, 18, 0)  # noqa: DTZ001  # her own clock has no zone
    assert (
        translation.speech("en").day(date(2026, 4, 14)),
        translation.speech("en").clock(at),
    ) == ("Tuesday 14 April", "6:00 PM")
    assert (
        translation.speech("es").day(date(2026, 4, 14)),
        translation.speech("es").clock(at),
    ) == ("martes 14 de abril", "18:00")


def test_an_unknown_language_is_english():
    assert translation.speech("tlh").code == "en"
    assert translation.speech("../../etc").code == "en"


def test_what_is_said_follows_the_language_of_whoever_is_served() -> None:
    with translation.speaking("es"):
        assert translation.say("At the foot") == "Pie"
        with translation.speaking("en"):
            assert translation.say("At the foot") == "At the foot"
        assert translation.say("At the foot") == "Pie"
    assert translation.say("At the foot") == "At the foot"


def test_a_label_made_at_the_start_is_said_in_the_language_of_the_moment() -> None:
    label = translation.say_later("At the foot")

    with translation.speaking("es"):
        assert str(label) == "Pie"
    assert str(label) == "At the foot"


def test_a_number_of_things_has_its_own_form() -> None:
    def rounds(count: int) -> str:
        return translation.say_n("{count} round", "{count} rounds", count)

    assert [rounds(0), rounds(1), rounds(2)] == ["0 rounds", "1 round", "2 rounds"]
