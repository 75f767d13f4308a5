"""What people read exists in every language that is offered, with the same values."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
from babel.messages.catalog import Catalog, Message
from babel.messages.pofile import read_po
from support import catalogue

from fitcounter.desk.common import catalogues, translation

OTHERS = [code for code in catalogues.languages() if code != "en"]


@pytest.mark.parametrize("code", OTHERS)
def test_no_sentence_is_missing_and_none_is_left_over(code: str) -> None:
    said = catalogue.every_sentence()
    entries = {_first(entry): entry for entry in _catalogue(code) if entry.id}

    assert len(said) > 60
    assert not said.keys() - entries.keys(), "not translated"
    assert not entries.keys() - said.keys(), "said nowhere any more"
    for text, many in said.items():
        strings = _strings(entries[text])
        assert all(strings), text
        assert not entries[text].fuzzy, text
        assert bool(many) == isinstance(entries[text].string, tuple), f"one form or two: {text}"


@pytest.mark.parametrize("code", OTHERS)
def test_each_translation_puts_in_the_same_values(code: str) -> None:
    """In each of its forms."""
    for entry in _catalogue(code):
        if entry.id:
            names = catalogues.values_in(_first(entry))
            for string in _strings(entry):
                assert catalogues.values_in(string) == names, string


def _catalogue(code: str) -> Catalog:
    with (catalogues.LANGUAGES_DIR / f"{code}.po").open("rb") as file:
        return read_po(file, locale=code)


def _first(entry: Message) -> str:
    return entry.id if isinstance(entry.id, str) else entry.id[0]


def _strings(entry: Message) -> tuple[str, ...]:
    return (entry.string,) if isinstance(entry.string, str) else tuple(entry.string)


@pytest.fixture
def folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Iterator[Path]:
    """A folder of catalogues of its own."""
    cached = (
        catalogues.language_codes,
        catalogues.languages,
        catalogues.catalogue,
        translation.speech,
    )
    monkeypatch.setattr(catalogues, "LANGUAGES_DIR", tmp_path)
    for one in cached:
        one.cache_clear()
    yield tmp_path
    for one in cached:
        one.cache_clear()


def test_a_language_is_added_by_one_file(folder: Path) -> None:
    (folder / "pt.po").write_text('msgid "Today"\nmsgstr "Hoje"\n', encoding="utf-8")

    assert catalogues.languages() == {"en": "English", "pt": "Português"}
    words = translation.speech("pt_PT")
    assert (words.locale, words.say("Today")) == ("pt_PT", "Hoje")
    assert words.say("Ready {day}.", day="Sat") == "Ready Sat."


def test_to_speak_a_language_it_need_not_be_known_how_its_speakers_call_it(folder: Path) -> None:
    (folder / "pt.po").write_text('msgid "Today"\nmsgstr "Hoje"\n', encoding="utf-8")

    assert translation.speech("pt").say("Today") == "Hoje"
    assert catalogues.languages.cache_info().misses == 0


def test_a_sentence_with_other_values_is_said_in_english_and_named(folder: Path) -> None:
    (folder / "pt.po").write_text(
        'msgid "Ready {day}."\nmsgstr "Pronto {dia}."\n\n'
        'msgid "Tree {tree}"\nmsgstr "Forma {tree"\n\nmsgid "Today"\nmsgstr "Hoje"\n',
        encoding="utf-8",
    )
    words = translation.speech("pt")

    assert words.say("Ready {day}.", day="Sat") == "Ready Sat."
    assert words.say("Tree {tree}", tree="4") == "Tree 4"
    assert words.say("Today") == "Hoje"
    assert catalogues.catalogue("pt").faulty == ("Ready {day}.", "Tree {tree}")


def test_a_file_that_is_no_catalogue_leaves_english(folder: Path) -> None:
    (folder / "pt.po").write_bytes(b"\xff\xfe not a catalogue")
    (folder / "notes.po").write_text("of no language", encoding="utf-8")

    assert catalogues.languages().keys() == {"en", "pt"}
    assert translation.speech("pt").say("Today") == "Today"
    assert not catalogues.catalogue("pt").readable
