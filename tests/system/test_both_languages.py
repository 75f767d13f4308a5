"""A Spanish shop has no English sentence on any page, and an English one no Spanish sentence.

Every page of the invented shop is read, in every state that it can show, as its owner sees it.
"""

from __future__ import annotations

import json
import shutil
from collections.abc import Iterator
from datetime import UTC, datetime
from pathlib import Path

import pytest
from support.cast import Clock, Counter
from support.every_page import every_address
from support.said_on_pages import foreign, said_of_the_other, texts_of, texts_of_paper

from fitcounter.desk import shop
from fitcounter.desk.shop import Act
from fitcounter.settings import SEED_SCENARIO, Settings
from fitcounter.store.opening import open_store
from fitcounter.web import create_app

# What somebody typed about a thing, where the story does not have it word for word.
TYPED = (
    "SELECT description AS text FROM items UNION SELECT jobs FROM items UNION SELECT note FROM"
    " tickets UNION SELECT place FROM findings UNION SELECT note FROM findings UNION SELECT said"
    " FROM follow_ups WHERE kind = 'not-right' UNION SELECT note FROM wear_advice"
)
PAIR_IN_STATE = (
    "SELECT ticket_id FROM items WHERE state = ? AND kind = 'boot' AND fit_id IS NOT NULL"
)
NOW = datetime(2026, 3, 17, 14, 0, tzinfo=UTC)
YORK = {"locale": "en_US", "zone": "America/New_York", "currency": "USD", "country": "US"}
MADRID = {
    "locale": "es_ES",
    "zone": "Europe/Madrid",
    "currency": "EUR",
    "country": "ES",
    "unit": "cm",
}


@pytest.mark.parametrize(
    ("language", "choices"),
    [("es", MADRID), ("en", YORK)],
)
def test_every_page_speaks_one_language(
    story: Path, tmp_path: Path, language: str, choices: dict[str, str]
) -> None:
    shutil.copytree(story, tmp_path, dirs_exist_ok=True)
    store = open_store(tmp_path / "shop.db")
    shop.choose(store, Act(NOW), None, **choices)
    with store.write_tx():  # so that what is sent to customers is looked at too
        store.db.execute("UPDATE customers SET language = ?", [language])
    addresses = every_address(store)
    typed = [*_typed(), *(str(row["text"]) for row in store.rows(TYPED))]
    store.close()
    app = create_app(Settings(data_dir=tmp_path, testing=True), Clock(NOW))
    owner = Counter(app.test_client(), "OW").sign_in()

    others = foreign(said_of_the_other(language), typed)
    found = [
        f"{path}: {words}"
        for path in addresses
        for words in others.among(texts_of(owner.get(path).text, language))
    ]
    assert not found, "\n".join(found)


def test_every_paper_of_a_spanish_shop_speaks_spanish(story: Path, tmp_path: Path) -> None:
    """The shop's own papers, those of a pair on the bench, and those of one that was fetched.

    Not the consent, whose sentences stay as they were read and signed.
    """
    shutil.copytree(story, tmp_path, dirs_exist_ok=True)
    store = open_store(tmp_path / "shop.db")
    shop.choose(store, Act(NOW), None, **MADRID)
    with store.write_tx():
        for row in store.rows("SELECT id FROM customers"):
            store.change("customers", int(row["id"]), None, language="es")
    paths = [f"/papers/{name}.pdf" for name in ("evening", "rulers", "slips", "tags")]
    for state, names in (
        ("on-tree", ("bench-card", "tags", "claim")),
        ("out", ("receipt", "leg-card")),
    ):
        ticket = store.value(PAIR_IN_STATE, state)
        paths += [f"/tickets/{ticket}/{name}.pdf" for name in names]
    typed = [*_typed(), *(str(row["text"]) for row in store.rows(TYPED))]
    store.close()
    app = create_app(Settings(data_dir=tmp_path, testing=True), Clock(NOW))
    owner = Counter(app.test_client(), "OW").sign_in()

    english = foreign(
        said_of_the_other("es"), [*typed, "Bench"]
    )  # of the shop’s name, in a line of its own
    found = [
        f"{path}: {words}"
        for path in paths
        if (answer := owner.get(path)).mimetype == "application/pdf"
        for words in english.among(texts_of_paper(answer.data))
    ]
    assert not found, "\n".join(found)


def _typed() -> Iterator[str]:
    """All that somebody in the story typed."""
    yield from _texts(json.loads((SEED_SCENARIO / "shop.json").read_text(encoding="utf-8")))


def _texts(value: object) -> Iterator[str]:
    if isinstance(value, str):
        yield value
    elif isinstance(value, dict):
        for part in value.values():
            yield from _texts(part)
    elif isinstance(value, list):
        for part in value:
            yield from _texts(part)
