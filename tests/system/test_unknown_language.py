"""A language that is not there, a locale that nobody knows, a catalogue that is broken: every page
falls back to the shop's language or to English, Health says so, and nothing is ever an error.
"""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
from support.cast import Clock, Counter
from support.ticket_rows import Job, make_job

from fitcounter.desk import shop
from fitcounter.desk.common import catalogues, link_token, translation
from fitcounter.desk.shop import Act, Store
from fitcounter.store import tickets

BROKEN = 'msgid "Languages"\nmsgstr "Idiomas"\n\nmsgid "Ready {day}."\nmsgstr "Para {dia}."\n'
PAGES = ("/", "/new", "/bench", "/book", "/shop", "/shop/choices", "/me", "/papers")


@pytest.fixture
def act(clock: Clock) -> Act:
    return Act(clock.now, 3)


@pytest.fixture
def job(store: Store, act: Act) -> Job:
    return make_job(store, act)


@pytest.fixture
def broken_catalogue(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Iterator[None]:
    """Spanish with a sentence that puts in a value of another name."""
    cached = (
        catalogues.language_codes,
        catalogues.languages,
        catalogues.catalogue,
        translation.speech,
    )
    folder = tmp_path / "languages"
    folder.mkdir()
    (folder / "es.po").write_text(BROKEN, encoding="utf-8")
    monkeypatch.setattr(catalogues, "LANGUAGES_DIR", folder)
    for one in cached:
        one.cache_clear()
    yield
    for one in cached:
        one.cache_clear()


def opened(owner: Counter, job: Job) -> list[str]:
    """Every page, of which none fails."""
    ticket = f"/tickets/{job.ticket_id}"
    answers = [owner.get(path) for path in (*PAGES, ticket, f"{ticket}/call", f"/items/{job.left}")]
    assert [one.status_code for one in answers] == [200] * len(answers)
    return [one.text for one in answers]


def customers_page(stranger: Counter, store: Store, folder: Path, job: Job) -> str:
    token = link_token.link_token(link_token.link_key(folder), tickets.get(store, job.ticket_id))
    with store.write_tx():
        store.change(
            "tickets",
            job.ticket_id,
            link_hash=link_token.link_hash(token),
            link_until="2029-12-31T00:00:00Z",
        )
    answer = stranger.get(f"/c/{token}")
    assert answer.status_code == 200
    return answer.text


@pytest.mark.parametrize("locale", ["xx_YY", "tlh", "not a locale", "es_XX", ""])
def test_a_locale_that_nobody_knows_leaves_every_page_readable(
    owner: Counter, store: Store, act: Act, job: Job, locale: str
) -> None:
    shop.choose(store, act, None, locale=locale)
    spanish = locale == "es_XX"  # its language is there, and the country falls away

    assert all(('<html lang="es' in page) == spanish for page in opened(owner, job))


def test_health_names_the_locale_that_nobody_knows(owner: Counter, store: Store, act: Act) -> None:
    shop.choose(store, act, None, locale="xx_YY")

    assert "the shop’s language, xx_YY, is not there" in owner.get("/shop/health").text


def test_a_customers_language_that_is_not_there_is_the_shops(
    owner: Counter, stranger: Counter, store: Store, act: Act, job: Job, tmp_path: Path
) -> None:
    """On the page and on papers; Health says whose it is."""
    shop.choose(store, act, None, locale="es_ES")
    customer = store.value("SELECT customer_id FROM tickets WHERE id = ?", job.ticket_id)
    with store.write_tx():
        store.change("customers", int(customer), None, language="tlh")

    opened(owner, job)
    assert '<html lang="es' in customers_page(stranger, store, tmp_path, job)
    assert owner.get(f"/tickets/{job.ticket_id}/claim.pdf").status_code == 200
    assert "tlh" in owner.get("/shop/health").text


def test_a_persons_language_that_is_not_there_is_the_shops(
    owner: Counter, store: Store, act: Act, job: Job
) -> None:
    with store.write_tx():
        store.change("staff", 3, None, language="tlh")

    assert all('<html lang="en' in page for page in opened(owner, job))


@pytest.mark.usefixtures("broken_catalogue")
def test_a_broken_sentence_is_said_in_english_and_health_counts_it(
    owner: Counter, store: Store, act: Act, job: Job
) -> None:
    shop.choose(store, act, None, locale="es_ES")

    opened(owner, job)
    health = owner.get("/shop/health").text
    assert "Idiomas" in health
    assert "Español: 1 sentence is broken and said in English" in health
