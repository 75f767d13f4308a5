"""Closing the till by its page: nothing is filled in but the change; what is owed stands beside."""

from __future__ import annotations

from html import unescape

import pytest
from support.cast import Clock, Counter
from support.counter_forms import fresh, value
from support.ticket_rows import Job, make_job

from fitcounter.desk.tickets import till
from fitcounter.store import bills
from fitcounter.store.database import Act, Store


@pytest.fixture
def job(store: Store, clock: Clock) -> Job:
    act = Act(clock.now, 1)
    job = make_job(store, act)
    with store.write_tx():
        bills.pay(store, act, job.ticket_id, "payment", 2000, method="card")
    return job


def counted(page: str, **changes: object) -> dict[str, object]:
    usual = {"change": "100", "counted_cash": "100", "counted_card": "20", "counted_unsaid": "30"}
    return {**usual, "seen": value(page, "seen"), "submission_id": fresh(), **changes}


def test_a_till_is_counted_closed_and_listed(counter: Counter, store: Store, job: Job):
    page = unescape(counter.get("/till").text)
    for words in (
        "Should be there: Card",
        "$20.00",
        "$50.00",
        "Still owed to the shop",
        "Okafor-Lind",
    ):
        assert words in page
    assert value(page, "counted_cash") == "", "nothing is counted before it is"
    sent = counted(page)
    for _ in range(2):  # sent twice it is closed once
        assert counter.post("/till", **sent).status_code == 303
    page = unescape(counter.get("/till").text)
    assert "The till is closed. Right to the cent." in page
    assert len(till.latest(store)) == 1
    assert f'href="/till/{till.latest(store)[0].id}.pdf"' in page


@pytest.mark.parametrize(
    ("typed", "words"),
    [
        ({"counted_cash": ""}, "Type what you counted, or 0."),
        ({"counted_cash": "98"}, "$2.00 short. Count again, or type a note."),
        ({"counted_card": "-20"}, "$40.00 short. Count again, or type a note."),
        ({"counted_card": "much"}, "Type an amount, like 45.00."),
        ({"change": "-1"}, "Type an amount, like 45.00."),
        ({"counted_cash": "98", "note": "4111 1111 1111 1111"}, "This looks like a card number."),
    ],
)
def test_what_cannot_be_closed_keeps_what_was_typed(
    counter: Counter, store: Store, job: Job, typed: dict[str, str], words: str
):
    page = counter.get("/till").text
    answer = counter.post("/till", **counted(page, **typed))
    assert answer.status_code == 422
    shown = unescape(answer.text)
    assert words in shown
    for name, text in typed.items():
        assert value(answer.text, name) == text
    assert till.latest(store) == []


def test_a_payment_that_came_meanwhile_asks_to_count_once_more(
    counter: Counter, store: Store, job: Job, clock: Clock
):
    page = counter.get("/till").text
    with store.write_tx():
        bills.pay(store, Act(clock.now, 1), job.ticket_id, "payment", 500, method="cash")
    answer = counter.post("/till", **counted(page))
    assert answer.status_code == 409
    assert "Count it once more." in unescape(answer.text)
    again = counted(answer.text, counted_cash="105")
    assert counter.post("/till", **again).status_code == 303


def test_neither_a_stranger_nor_the_bench(stranger: Counter, bench: Counter, job: Job):
    assert stranger.client.get("/till").status_code == 303
    assert bench.get("/till").status_code == 403
