"""A computer that stands by shows the shop, says so on every page, and stores nothing of it."""

from __future__ import annotations

from pathlib import Path

import pytest
from flask import Flask
from support.cast import Clock, Counter
from support.every_page import every_address
from support.stand_by import across, as_fetched, files, second, there
from support.ticket_rows import make_job
from support.whole_shop import NOW, PEOPLE, WholeShop

from fitcounter.desk.data import stand_by_fetch
from fitcounter.desk.shop import Act, EachOpens, Store
from fitcounter.desk.staff import sign_in
from fitcounter.settings import Settings
from fitcounter.web import create_app

__all__ = ["second", "there"]
REFUSED = "This computer stands by. The shop is on the other one."
STANDS_BY = "This computer stands by, to look only."


def application(data_dir: Path, clock: Clock) -> Flask:
    settings = Settings(data_dir=stand_by_fetch.copy_folder(data_dir), testing=True)
    return create_app(settings, clock, lambda _: stand_by_fetch.opened(data_dir), stands_by=True)


@pytest.fixture
def looker(second: Path, clock: Clock) -> Counter:
    return Counter(application(second, clock).test_client(), "CO", clock=clock).sign_in()


def test_who_is_of_the_shop_signs_in_and_every_page_says_that_it_stands_by(looker: Counter):
    for path in ("/", "/bench", "/tickets/1", "/pickup", "/papers", "/no-such-page"):
        page = looker.get(path)
        assert STANDS_BY in page.text, path
        assert "Its data came Tuesday, March 17, 10:00 AM" in page.text, path
    assert "Vole" in looker.get("/tickets/1").text
    assert STANDS_BY in looker.client.application.test_client().get("/sign-in").text


def test_no_form_is_taken_and_what_was_typed_is_on_the_page(looker: Counter, second: Path):
    before = files(second)
    looker.get("/tickets/1/call")
    answer = looker.post("/tickets/1/call", note="She comes on Friday")
    assert answer.status_code == 503
    assert REFUSED in answer.text
    assert "She comes on Friday" in answer.text
    for path in ("/new", "/me", "/open", "/first-run", "/tickets/1/cancel", "/prove"):
        answer = looker.post(path, name="Somebody")
        assert (answer.status_code, REFUSED in answer.text) == (503, True), path
    assert files(second) == before


def test_a_stranger_cannot_come_in_nor_try_for_ever(second: Path, clock: Clock):
    app, before = application(second, clock), files(second)
    stranger = Counter(app.test_client())
    stranger.get("/sign-in")
    codes = [
        stranger.post("/sign-in", initials="CO", passphrase=f"wrong {n}").status_code
        for n in range(7)
    ]
    assert codes[0] == 422
    assert codes[-1] == 429
    assert stranger.get("/tickets/1").status_code == 303
    assert files(second) == before


def test_newer_data_take_the_place_of_the_older_and_nobody_is_signed_out(
    looker: Counter, second: Path, there: Path, store: Store, tmp_path: Path, clock: Clock
):
    make_job(store, Act(NOW, 1), name="Zoe Late")
    across(store, tmp_path, there)
    assert looker.get("/tickets/2").status_code == 404
    stand_by_fetch.take(second, there, clock.on(minutes=5), as_fetched)
    page = looker.get("/tickets/2")
    assert "Late" in page.text
    assert "Its data came Tuesday, March 17, 10:05 AM" in page.text
    stand_by_fetch.take(second, there, clock.on(minutes=5), as_fetched)
    assert len(list(stand_by_fetch.copy_folder(second).parent.glob("copy-*"))) == 2
    assert looker.post("/sign-out").status_code == 303
    assert looker.get("/").status_code == 303


@pytest.mark.slow
def test_every_page_is_answered_as_at_the_shop(
    whole: WholeShop, tmp_path_factory: pytest.TempPathFactory
):
    """… by its code, in every state it can show, and the copy stays as it was."""
    made, there = tmp_path_factory.mktemp("whole-second"), tmp_path_factory.mktemp("whole-there")
    across(whole.store, whole.store.path.parent, there)
    stand_by_fetch.take(made, there, NOW, as_fetched)
    app, before, wrong = application(made, whole.clock), files(made), {}
    here = Counter(app.test_client())
    at_shop = whole.signed_in("owner")
    with here.client.session_transaction() as session:
        session.update(token=token_in(stand_by_fetch.opened(made)), _permanent=True)
    for path in every_address(whole.store):
        codes = here.get(path).status_code, at_shop.get(path).status_code
        if codes[0] != codes[1]:
            wrong[path] = codes
    assert wrong == {"/shop/health": (503, 200), "/shop/off-site": (503, 200)}
    assert files(made) == before


def token_in(file: EachOpens) -> str:
    """Of an owner who signed in there."""
    store = file.enter()
    row = {"token_hash": sign_in.token_hash("a-token"), "staff_id": PEOPLE["owner"]}
    with store.write_tx():
        at = "2026-03-17T14:00:00Z"
        store.insert("sessions", **row, started_at=at, seen_at=at, ends_at="2026-03-18T00:00:00Z")
    store.close()
    return "a-token"
