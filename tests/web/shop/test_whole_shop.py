"""The owner takes the whole shop out as a file; nobody else does."""

from __future__ import annotations

import pytest
from support.cast import Counter
from support.counter_forms import fresh


@pytest.mark.parametrize(("kind", "begins"), [("json", b'{"'), ("csv", b"PK")])
def test_the_owner_takes_the_whole_shop_under_the_name_of_the_day(
    owner: Counter, kind: str, begins: bytes
):
    owner.get("/shop/everything")
    sent = {"submission_id": fresh(), "csrf_token": owner.token()}
    answer = owner.client.post(f"/shop/everything/{kind}", data=sent)
    assert answer.status_code == 200
    ending = "json" if kind == "json" else "zip"
    named = f'attachment; filename="shop-2026-03-17.{ending}"'
    assert answer.headers["Content-Disposition"] == named
    assert answer.data.startswith(begins)
    assert answer.content_length == len(answer.data)


@pytest.mark.parametrize("who", ["counter", "bench"])
def test_nobody_but_the_owner_takes_it(who: str, request: pytest.FixtureRequest):
    person: Counter = request.getfixturevalue(who)
    person.get("/")
    sent = {"submission_id": fresh(), "csrf_token": person.token()}
    answer = person.client.post("/shop/everything/json", data=sent)
    assert answer.status_code in (403, 404)
    assert b"whole shop of fitcounter" not in answer.data
