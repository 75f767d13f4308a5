"""What is made once is what the framework makes each time."""

from __future__ import annotations

import time

import pytest
from flask import Flask, redirect, render_template_string, session, url_for

from fitcounter.web.responses.made_once import Pages, Sessions

ADDRESSES = [
    ("counter.today", {}),
    ("static", {"filename": "app.css"}),
    ("items.item", {"item_id": 5}),
    ("items.item", {"item_id": 5, "do": "wait"}),
    ("items.take", {"item_id": 5, "step": "undo"}),
    ("customer.page", {"token": "abc"}),
    ("counter.today", {"q": "Ann Müller & Co"}),
    ("counter.ticket", {"ticket_id": 5, "q": None}),
    ("items.item", {"item_id": 5, "_external": True}),
    ("items.item", {"item_id": 5, "_anchor": "photos"}),
    (".item", {"item_id": 5}),
]


@pytest.mark.parametrize(("endpoint", "values"), ADDRESSES)
def test_an_address_is_the_same_the_second_time(app: Flask, endpoint: str, values: dict) -> None:
    for host in ("localhost", "localhost", "localhost:81"):
        with app.test_request_context("/items/7", base_url=f"http://{host}"):
            assert url_for(endpoint, **values) == Flask.url_for(app, endpoint, **values)


def test_an_address_of_the_room_that_asks_is_its_own(app: Flask) -> None:
    found = []
    for path in ("/", "/pickup/5", "/"):
        with app.test_request_context(path):
            found.append(url_for(".ticket", ticket_id=5))
    assert found == ["/tickets/5", "/pickup/5", "/tickets/5"]


def test_behind_a_path_of_its_own_every_address_begins_with_it(app: Flask) -> None:
    for root in ("", "/shop", ""):
        with app.test_request_context("/", environ_overrides={"SCRIPT_NAME": root}):
            assert url_for("items.item", item_id=5) == f"{root}/items/5"


def test_an_address_is_built_once_for_views_and_templates(
    app: Flask, monkeypatch: pytest.MonkeyPatch
) -> None:
    with app.test_request_context("/"):
        first = url_for("counter.ticket", ticket_id=5)
        monkeypatch.setattr(Flask, "url_for", None)
        assert url_for("counter.ticket", ticket_id=5) == first
        assert render_template_string("{{ url_for('counter.ticket', ticket_id=5) }}") == first


def test_the_way_on_is_sent_without_a_page_of_the_framework_s_words(app: Flask) -> None:
    with app.test_request_context("/"):
        answer = redirect("/tickets/5?q=Ann Müller", 303)
        sent = answer.get_wsgi_headers({})
    assert (answer.status_code, answer.get_data()) == (303, b"")
    assert sent["Location"] == "/tickets/5?q=Ann%20M%C3%BCller"


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


def opened(app: Flask, cookie: str) -> dict:
    """What is in the session of a request that comes with a cookie."""
    named = f"{app.config['SESSION_COOKIE_NAME']}={cookie}"
    with app.test_request_context("/static/x", headers={"Cookie": named}):
        found = dict(session)
        session["left"] = "by this one"
        return found


def test_a_cookie_is_read_each_time_as_it_was_the_first_time(app: Flask) -> None:
    signer = app.session_interface.get_signing_serializer(app)
    for held in ({"token": "abc"}, {"token": "abc" * 200, "_flashes": [("message", "Saved.")]}):
        cookie = signer.dumps(held)
        assert [opened(app, cookie) for _ in range(3)] == [held] * 3


@pytest.mark.parametrize("changed", ["0", "x", ".x"])
def test_a_cookie_that_was_changed_is_no_cookie_beside_the_right_one(app: Flask, changed) -> None:
    cookie = app.session_interface.get_signing_serializer(app).dumps({"token": "abc"})
    assert opened(app, cookie) == {"token": "abc"}
    payload, rest = cookie.split(".", 1)
    forged = [cookie + changed, f"{payload}{changed}.{rest}", f"{payload}.{rest[1:]}", payload, "."]
    assert [opened(app, one) for one in forged] == [{}] * len(forged)


def test_a_cookie_that_was_read_before_is_none_once_it_is_too_old(
    app: Flask, monkeypatch: pytest.MonkeyPatch
) -> None:
    cookie = app.session_interface.get_signing_serializer(app).dumps({"token": "abc"})
    now, longest = time.time(), app.permanent_session_lifetime.total_seconds()
    found = []
    for later in (0, longest - 5, longest + 5, -5):
        monkeypatch.setattr(time, "time", lambda later=later: now + later)
        found.append(opened(app, cookie))
    assert found == [{"token": "abc"}, {"token": "abc"}, {}, {}]
