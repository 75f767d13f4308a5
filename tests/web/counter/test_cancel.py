"""The papers promise the boots back at any time: on the ticket it takes two taps."""

from __future__ import annotations

from html import unescape

import pytest
from flask import Flask
from support.cast import Clock, Counter
from support.counter_forms import fresh, value
from support.shop_phone import IDS, PINS, give_pins, opened, taken_in
from support.ticket_rows import Job, make_job

from fitcounter.store import bills, items
from fitcounter.store.database import Act, Store


@pytest.fixture
def job(store: Store, clock: Clock) -> Job:
    return make_job(store, Act(clock.now, 1))


def as_shown(page: str) -> dict[str, object]:
    """What the page sends when nothing on it is touched."""
    return {
        "submission_id": value(page, "submission_id"),
        "version": value(page, "version"),
        "charge": value(page, "charge"),
        "why": "customer",
    }


def test_two_taps_cancel_the_job_and_hand_over_comes_next(counter: Counter, store: Store, job: Job):
    ticket = counter.get(f"/tickets/{job.ticket_id}").text
    assert f'href="/tickets/{job.ticket_id}/cancel"' in ticket
    page = counter.get(f"/tickets/{job.ticket_id}/cancel").text
    assert "Left boot: undone (waiting for the bench)" in page
    answer = counter.post(f"/tickets/{job.ticket_id}/cancel", **as_shown(page))
    assert answer.status_code == 303

    page = unescape(counter.get(f"/tickets/{job.ticket_id}").text)
    assert "Cancelled. To refund: $30.00." in page
    assert f'href="/pickup/{job.ticket_id}"' in page
    assert "cancelled, ready to pick up" in page
    pickup = unescape(counter.get(f"/pickup/{job.ticket_id}").text)
    assert "Give back $30: the shop owes it." in pickup
    today = unescape(counter.get("/").text)
    assert "to refund $30" in today

    assert counter.post(f"/tickets/{job.ticket_id}/cancel/undo", submission_id=fresh()).status_code
    assert items.get(store, job.left).state == "queued"
    assert "The job goes on." in counter.get(f"/tickets/{job.ticket_id}").text


def test_sent_twice_it_is_cancelled_once(counter: Counter, store: Store, job: Job):
    sent = as_shown(counter.get(f"/tickets/{job.ticket_id}/cancel").text)
    for _ in range(2):
        answer = counter.post(f"/tickets/{job.ticket_id}/cancel", **sent)
        assert answer.status_code == 303
    assert len(bills.lines(store, job.ticket_id)) == 2


def test_one_item_alone_asks_what_is_charged(counter: Counter, store: Store, job: Job):
    where = f"/tickets/{job.ticket_id}/cancel?item={job.left}"
    page = counter.get(where).text
    assert "Right boot" not in page
    answer = counter.post(where, **as_shown(page))
    assert answer.status_code == 422
    assert "Type the price, or 0 if it is free." in answer.text
    answer = counter.post(where, **{**as_shown(page), "charge": "45", "submission_id": fresh()})
    assert answer.status_code == 303
    assert items.get(store, job.left).cancelled == "customer"
    assert items.get(store, job.right).state == "queued"
    check = unescape(counter.get(f"/tickets/{job.ticket_id}").text)
    assert "$45.00" in check


@pytest.mark.parametrize(
    ("typed", "words"),
    [
        ({"charge": "-5"}, "Type an amount, like 45.00."),
        ({"charge": "90.01"}, "The price is $90.00 now. Charge at most that."),
        ({"refund": "30"}, "Pick how it was paid"),
        ({"refund": "31", "method": "cash"}, "$30.00 is to be given back."),
        ({"why": ""}, "Pick why it is cancelled."),
    ],
)
def test_bad_input_keeps_what_was_typed_and_stores_nothing(
    counter: Counter, store: Store, job: Job, typed: dict[str, str], words: str
):
    page = counter.get(f"/tickets/{job.ticket_id}/cancel").text
    answer = counter.post(f"/tickets/{job.ticket_id}/cancel", **{**as_shown(page), **typed})
    assert answer.status_code == 422
    shown = unescape(answer.text)
    assert words in shown
    for text in typed.values():
        assert not text or f'value="{text}"' in shown
    assert items.get(store, job.left).state == "queued"
    assert len(bills.payments(store, job.ticket_id)) == 1


def test_money_given_back_on_a_phone_of_the_shop_wants_the_pin(
    app: Flask, owner: Counter, store: Store, job: Job, clock: Clock
):
    give_pins(store)
    phone = opened(taken_in(app, owner), "CO")
    clock.on(minutes=6)
    where = f"/tickets/{job.ticket_id}/cancel"
    sent = {**as_shown(phone.get(where).text), "who": IDS["CO"], "refund": "30", "method": "cash"}
    answer = phone.post(where, **sent)
    assert answer.status_code == 422
    assert "Type your PIN to go on." in answer.text
    assert phone.post(where, **sent, pin=PINS["CO"]).status_code == 303
    assert bills.payments(store, job.ticket_id)[-1].kind == "refund"


def test_what_is_done_or_gone_cannot_be_cancelled(counter: Counter, store: Store, job: Job):
    with store.write_tx():
        for item_id in (job.left, job.right, job.bag):
            store.change("items", item_id, state="out")
    answer = counter.get(f"/tickets/{job.ticket_id}/cancel")
    assert answer.status_code == 422
    assert "it is done or gone" in answer.text
    answer = counter.post(f"/tickets/{job.ticket_id}/cancel/undo", submission_id=fresh())
    assert answer.status_code == 422
    assert "nothing to undo" in answer.text
