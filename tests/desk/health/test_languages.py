"""The health page says which language cannot be said, and nothing ever fails for it."""

from __future__ import annotations

from pathlib import Path

import pytest
from support.ticket_rows import make_job

from fitcounter.desk import shop
from fitcounter.desk.common import catalogues
from fitcounter.desk.common.translation import speaking, speech_at
from fitcounter.desk.health.languages import look
from fitcounter.desk.shop import Act, Shop, Store


def test_a_shop_whose_language_is_there_wants_nothing(store: Store) -> None:
    found = look(store, shop.read(store))
    assert (found.words, found.todo) == ("English and Español", "")


def test_a_shop_with_an_unknown_locale_speaks_english_and_is_told(store: Store, act: Act) -> None:
    shop.choose(store, act, None, locale="xx_YY")
    here = shop.read(store)
    found = look(store, here)

    assert speech_at(here).say("Today") == "Today"
    assert found.words == "the shop’s language, xx_YY, is not there"
    assert found.todo == "Pick another one under Shop, Settings."


def test_a_customers_language_that_is_not_there_is_the_shops(store: Store, act: Act) -> None:
    job = make_job(store, act)
    customer_id = store.value("SELECT customer_id FROM tickets WHERE id = ?", job.ticket_id)
    with store.write_tx():
        store.change("customers", int(customer_id), None, language="tlh")

    assert speech_at(Shop(locale="es_ES"), "tlh").code == "es"
    assert look(store, shop.read(store)).words == "no catalogue for customers’ languages: tlh"


def test_broken_sentences_are_counted(
    store: Store, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    (tmp_path / "es.po").write_text('msgid "Ready {day}."\nmsgstr "Para {dia}."\n', "utf-8")
    monkeypatch.setattr(catalogues, "LANGUAGES_DIR", tmp_path)
    catalogues.catalogue.cache_clear()
    found = look(store, shop.read(store))
    catalogues.catalogue.cache_clear()

    assert found.words == "Español: 1 sentence is broken and said in English"
    assert found.todo == "Put es.po back from the download."


def test_it_is_said_in_the_language_of_whoever_looks(store: Store) -> None:
    with speaking("es"):
        assert look(store, shop.read(store)).words == "English y Español"
