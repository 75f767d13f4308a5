"""What waited on a phone: when it was typed, whose it is, and an answer without a page."""

from __future__ import annotations

from datetime import timedelta

import pytest
from flask import Flask, g
from support.bench_cast import Pair
from support.cast import Clock, Counter
from werkzeug.test import TestResponse

from fitcounter.web.offline import waited_on_phone


@pytest.fixture
def asked(app: Flask, clock: Clock):  # type: ignore[no-untyped-def]
    """When it was typed, by the age that a phone sends."""

    def typed_at(age: str | None):  # type: ignore[no-untyped-def]
        headers = {} if age is None else {"Outbox-Age": age}
        with app.test_request_context(headers=headers):
            g.now = clock.now
            return waited_on_phone.typed_at()

    return typed_at


@pytest.mark.parametrize("age", [None, "", "-5", "1.5", "abc", "٣", "999999999", " 5"])
def test_without_an_age_that_can_be_it_was_typed_now(asked, clock: Clock, age: str | None) -> None:
    assert asked(age) == clock.now


def test_it_was_typed_so_long_ago_and_at_most_thirty_days(asked, clock: Clock) -> None:
    assert asked("0") == clock.now
    assert asked("90") == clock.now - timedelta(seconds=90)
    assert asked("99999999") == clock.now - timedelta(days=30)


def save(counter: Counter, boots: Pair, submission: str, **headers: str) -> TestResponse:
    counter.get("/me")
    typed: dict[str, object] = {"submission_id": submission, "prepared": "conditioned"}
    return counter.send(f"/items/{boots.left}/prepare", typed, headers=headers)


def test_an_answer_to_the_outbox_says_saved_and_where_to_go_without_a_page(
    bench: Counter, boots: Pair
) -> None:
    saved = save(bench, boots, "outbox-000001", Outbox="later")
    assert (saved.status_code, saved.data, saved.headers["Outbox"]) == (204, b"", "saved")
    assert saved.headers["Outbox-Next"].startswith("/items/")
    assert "Location" not in saved.headers
    refused = save(bench, boots, "outbox-000002", Outbox="now")
    assert refused.headers["Outbox"] == "refused"
    assert refused.status_code == 422
    assert "Outbox" not in bench.get("/me").headers


def test_nobodys_words_are_saved_as_anothers(bench: Counter, boots: Pair) -> None:
    theirs = save(bench, boots, "outbox-000003", Outbox="now", **{"Outbox-By": "1"})
    assert theirs.status_code == 409
    assert "Somebody else was signed in" in theirs.text
    own = save(bench, boots, "outbox-000003", Outbox="now", **{"Outbox-By": "2"})
    assert own.headers["Outbox"] == "saved"
