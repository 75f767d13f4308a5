"""What the customer reads exists in every language that is offered."""

from __future__ import annotations

import re
import string
from datetime import date, datetime
from pathlib import Path

import pytest

from fitcounter.desk import her_page, her_sheet, her_words, speech
from fitcounter.web import customer

ROOT = Path(__file__).resolve().parents[2]


def sentences() -> set[str]:
    """Every sentence that is said: in her templates, and by the desk and the web room."""
    found: set[str] = set()
    rooms = {
        "desk": ("calling.py", "her_page.py", "her_sheet.py", "her_words.py", "printing.py", "ticket_printing.py"),
        "web": ("customer.py",),
        "papers": ("calendar_days.py", "calendar_pdf.py", "claim.py", "letters.py", "page.py"),
    }
    code = [ROOT / "fitcounter" / room / name for room, names in rooms.items() for name in names]
    papers = (ROOT / "templates" / "papers").glob("*.html")
    pages = [*(ROOT / "templates" / "customer").glob("*.html"), *papers]
    for path in (*code, *pages):
        text = path.read_text(encoding="utf-8")
        assert not re.search(r"\bsay\(\s*'", text), f"{path.name}: a sentence in single quotes is not found here"
        found |= set(re.findall(r'\bsay\(\s*"([^"]+)"', text))
    grew = {"The left boot grew {size}.", "The right boot grew {size}."}
    return found | grew | her_words.ours() | set(her_page.WHERE.values()) | set(her_words.NAMES.values()) | set(her_sheet.TEXTS.values()) | set(
        customer.SIDES.values()) | set(customer.PLACES.values()) | {customer.NOT_SURE}  # fmt: skip


@pytest.mark.parametrize("code", [code for code in speech.languages() if code != "en"])
def test_no_sentence_is_missing_and_none_is_left_over(code: str):
    said = sentences()
    assert len(said) > 60
    assert said == set(speech._catalogue(code))


@pytest.mark.parametrize("code", [code for code in speech.languages() if code != "en"])
def test_each_translation_puts_in_the_same_values(code: str):
    def values(text: str) -> set[str]:
        return {name for _, name, _, _ in string.Formatter().parse(text) if name}

    spoken = speech.Speech(code)
    for sentence in sentences():
        names = values(sentence)
        for one in names:
            assert "<here>" in spoken.say(sentence, **{name: "<here>" if name == one else "" for name in names}), sentence


def test_days_and_hours_are_written_as_the_language_does():
    at = datetime(2026, 4, 14, 18, 0)  # noqa: DTZ001  # her own clock has no zone
    assert (speech.speech("en").day(date(2026, 4, 14)), speech.speech("en").clock(at)) == ("Tuesday 14 April", "6:00 PM")
    assert (speech.speech("es").day(date(2026, 4, 14)), speech.speech("es").clock(at)) == ("martes 14 de abril", "18:00")


def test_an_unknown_language_is_english():
    assert speech.speech("tlh").code == "en"
    assert speech.speech("../../etc").code == "en"
