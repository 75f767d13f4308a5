"""What the customer reads exists in every language that is offered."""

from __future__ import annotations

import re
import string
from datetime import date, datetime

import pytest
from support.paths import CHECKOUT

from fitcounter.desk.common import translation
from fitcounter.desk.customer import calendar as customer_calendar
from fitcounter.desk.customer import page as customer_page
from fitcounter.desk.customer import phrases
from fitcounter.web.customer import page as customer


def sentences() -> set[str]:
    """Every sentence that is said: in her templates, and by the desk and the web room."""
    found: set[str] = set()
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
    for path in (*code, *pages):
        text = path.read_text(encoding="utf-8")
        assert not re.search(r"\bsay\(\s*'", text), (
            f"{path.name}: a sentence in single quotes is not found here"
        )
        found |= set(re.findall(r'\bsay\(\s*"([^"]+)"', text))
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
    assert said == set(translation._catalogue(code))


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
