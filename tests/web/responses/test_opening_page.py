"""While it takes long to open the shop's file, every address answers with how far that is."""

from __future__ import annotations

import pytest
from flask.testing import FlaskClient

from fitcounter.errors import message
from fitcounter.store.backup import COPYING
from fitcounter.store.opening import UP_TO_DATE
from fitcounter.web.responses.opening_page import OpeningPage


@pytest.fixture
def page() -> OpeningPage:
    return OpeningPage()


@pytest.fixture
def phone(page: OpeningPage) -> FlaskClient:
    return page.application().test_client()


@pytest.mark.parametrize("address", ["/", "/tickets/7", "/c/some-link", "/api/csrf"])
def test_whoever_asks_sees_how_far_it_is_and_comes_back_by_itself(
    page: OpeningPage, phone: FlaskClient, address: str
) -> None:
    page.follow(UP_TO_DATE, 3, 5)
    answer = phone.get(address)
    assert (answer.status_code, answer.headers["Retry-After"]) == (503, "2")
    assert "The shop is being opened" in answer.text
    assert 'role="status">Bringing the shop’s file up to date: 3 of 5<' in answer.text
    assert 'value="3" max="5"' in answer.text
    assert '<meta http-equiv="refresh" content="2">' in answer.text
    assert answer.headers["Cache-Control"] == "no-store"
    assert "default-src 'none'" in answer.headers["Content-Security-Policy"]


def test_before_the_first_word_of_it_there_is_no_bar(phone: FlaskClient) -> None:
    text = phone.get("/").text
    assert 'role="status">Just begun<' in text
    assert "<progress" not in text


def test_a_phone_is_answered_in_its_own_language(page: OpeningPage, phone: FlaskClient) -> None:
    page.follow(COPYING, 40_000_000, 80_000_000)
    text = phone.get("/", headers={"Accept-Language": "es-MX,es;q=0.9,en;q=0.8"}).text
    assert '<html lang="es">' in text
    assert "Copiando el archivo del taller: 50" in text
    assert '<html lang="en">' in phone.get("/", headers={"Accept-Language": "xx"}).text


def test_a_form_is_told_that_nothing_was_saved_and_is_not_sent_again(phone: FlaskClient) -> None:
    answer = phone.post("/items/1/off", data={"girth": "15"})
    assert answer.status_code == 503
    assert "Nothing was saved." in answer.text
    assert "http-equiv" not in answer.text
    assert "Outbox" not in answer.headers, "what waits on a phone goes on waiting there"


def test_its_letters_and_colours_are_there(phone: FlaskClient) -> None:
    sheet = phone.get("/").text.split('rel="stylesheet" href="')[1].split('"')[0]
    with phone.get(sheet) as answer:
        assert answer.mimetype == "text/css"


def test_what_it_says_is_escaped(page: OpeningPage, phone: FlaskClient) -> None:
    page.follow(message("<b>{file}</b>", file="a&b"), 0, 1)
    assert "&lt;b&gt;a&amp;b" in phone.get("/").text
