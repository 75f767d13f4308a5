"""What is made once is what the framework makes each time."""

from __future__ import annotations

import pytest
from flask import Flask, render_template_string, url_for

from fitcounter.web.responses.made_once import Pages, Sessions, address_of

ADDRESSES = [
    ("counter.today", {}),
    ("static", {"filename": "app.css"}),
    ("items.item", {"item_id": 5}),
    ("items.item", {"item_id": 5, "do": "wait"}),
    ("items.take", {"item_id": 5, "step": "undo"}),
    ("customer.page", {"token": "abc"}),
    ("counter.today", {"q": "Ann Müller & Co"}),
    ("items.item", {"item_id": 5, "_external": True}),
]


@pytest.mark.parametrize(("endpoint", "values"), ADDRESSES)
def test_an_address_is_the_same_the_second_time(app: Flask, endpoint: str, values: dict) -> None:
    address = address_of(app)
    for _ in range(2):
        with app.test_request_context("/items/7"):
            assert address(endpoint, **values) == url_for(endpoint, **values)


def test_behind_a_path_of_its_own_every_address_begins_with_it(app: Flask) -> None:
    address = address_of(app)
    for root in ("", "/shop", ""):
        with app.test_request_context("/", environ_overrides={"SCRIPT_NAME": root}):
            assert address("items.item", item_id=5) == f"{root}/items/5"


def test_what_a_template_is_given_beside_the_names_of_all_stays_its_own(app: Flask) -> None:
    assert isinstance(app.jinja_env, Pages)
    own = app.jinja_env.from_string("{{ word }}{{ submission_id is defined }}", {"word": "a"})
    other = app.jinja_env.from_string("{{ word is defined }}")
    assert (own.render(), other.render()) == ("aTrue", "False")
    with app.test_request_context("/"):
        assert render_template_string("{{ word }}", word="b") == "b"
        assert render_template_string("{{ word is defined }}") == "False"


def test_a_cookie_is_signed_by_the_key_of_its_own_application(app: Flask) -> None:
    other = Flask("other")
    other.secret_key = "another key, as long as it should be"
    sessions = Sessions()
    ours, theirs = (sessions.get_signing_serializer(one) for one in (app, other))
    assert ours is sessions.get_signing_serializer(app)
    assert ours is not None
    assert theirs is not None
    assert ours.loads(ours.dumps({"token": "x"})) == {"token": "x"}
    assert ours.dumps({}) != theirs.dumps({})
