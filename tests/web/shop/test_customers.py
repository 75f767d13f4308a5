"""The owner erases a customer from the shop's own page, and nobody else does."""

from __future__ import annotations

import pytest
from support.cast import Clock, Counter
from support.ticket_rows import make_job

from fitcounter.store.database import Act, Store

NAME = "Marisol Okafor-Lind"


@pytest.fixture
def page(store: Store, clock: Clock) -> str:
    """The page of a customer whose ticket is out."""
    job = make_job(store, Act(clock.now), NAME, state="out")
    with store.write_tx():
        store.change("tickets", job.ticket_id, state="out")
    return f"/shop/customers/{store.value('SELECT max(id) FROM customers')}"


def names(store: Store) -> int:
    return int(store.value("SELECT count(*) FROM customers WHERE name = ?", NAME))


def test_the_name_typed_again_erases_and_the_page_says_what_was_looked_through(
    owner: Counter, store: Store, page: str
):
    assert page in owner.get("/shop/customers?q=okaf").text
    assert NAME in owner.get(page).text
    assert owner.post(f"{page}/erase", name=NAME, submission_id="erase-it-once").status_code == 303
    assert names(store) == 0
    assert "not one byte" in owner.get("/shop/customers?q=okaf").text
    assert owner.get(page).status_code == 404


def test_sent_twice_it_is_erased_once(owner: Counter, store: Store, page: str):
    owner.get(page)
    codes = [
        owner.post(f"{page}/erase", name=NAME, submission_id="erase-it-once").status_code
        for _ in range(2)
    ]
    assert codes == [303, 303]
    assert store.value("SELECT count(*) FROM erasures") == 1


@pytest.mark.parametrize("typed", ["", "Marisol", "<b>Marisol"])
def test_another_name_erases_nobody_and_stays_in_its_field(
    owner: Counter, store: Store, page: str, typed: str
):
    owner.get(page)
    answer = owner.post(f"{page}/erase", name=typed)
    assert answer.status_code == 422
    assert typed.replace("<", "&lt;").replace(">", "&gt;") in answer.text
    assert names(store) == 1


def test_an_open_ticket_is_a_conflict_that_names_it(owner: Counter, store: Store, page: str):
    with store.write_tx():
        store.db.execute("UPDATE tickets SET state = 'open'")
    owner.get(page)
    answer = owner.post(f"{page}/erase", name=NAME)
    assert answer.status_code == 409
    assert "still open" in answer.text
    assert names(store) == 1


def test_nobody_but_the_owner_sees_or_erases(
    counter: Counter, bench: Counter, stranger: Counter, owner: Counter, store: Store, page: str
):
    for one in (counter, bench):
        one.get("/me")
        assert one.get(page).status_code == 403
        assert one.post(f"{page}/erase", name=NAME).status_code == 403
    assert stranger.post(f"{page}/erase", name=NAME).status_code in (400, 401)
    assert owner.get(f"{page}/erase").status_code == 405
    assert names(store) == 1


def test_the_owner_hands_a_customer_a_copy_under_a_name_that_tells_nobody(
    owner: Counter, bench: Counter, page: str
):
    for kind, mimetype in (("json", "application/json"), ("csv", "text/csv")):
        answer = owner.get(f"{page}/everything.{kind}")
        assert (answer.status_code, answer.mimetype) == (200, mimetype)
        assert NAME in answer.text
        assert "Marisol" not in answer.headers["Content-Disposition"]
        assert bench.get(f"{page}/everything.{kind}").status_code == 403
    assert owner.get("/shop/customers/999/everything.csv").status_code == 404
