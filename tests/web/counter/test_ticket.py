"""Money on a ticket outside agreeing and pickup: taken, given back, put right; once, by whom and
why, and no card's number.
"""

from __future__ import annotations

from html import unescape

import pytest
from flask import Flask
from support.cast import Clock, Counter
from support.counter_forms import fresh
from support.shop_phone import IDS, PINS, give_pins, opened, taken_in
from support.ticket_rows import Job, make_job

from fitcounter.desk import shop
from fitcounter.desk.common import money
from fitcounter.desk.data import erasure
from fitcounter.desk.documents import evening_sheet
from fitcounter.desk.tickets import payments
from fitcounter.store import audit_key, bills, customers, integrity, lists, tickets
from fitcounter.store.database import Act, Store

BACK = {"what": "refund", "amount": "20", "why": "the belt was not done", "method": "cash"}


@pytest.fixture
def job(store: Store, clock: Clock) -> Job:
    """Agreed at 90 dollars, 30 of them paid."""
    return make_job(store, Act(clock.now, 1))


def write(somebody: Counter, job: Job, /, **typed: object):
    somebody.get(f"/tickets/{job.ticket_id}")
    return somebody.post(
        f"/tickets/{job.ticket_id}/money", **{"submission_id": fresh(), "method": "cash", **typed}
    )


def sums(store: Store, job: Job) -> money.Sums:
    ticket = tickets.get(store, job.ticket_id)
    return money.sums(
        ticket, bills.lines(store, job.ticket_id), bills.payments(store, job.ticket_id)
    )


@pytest.mark.parametrize(
    ("typed", "paid_minor", "words"),
    [
        ({"what": "payment", "amount": "25.50"}, 5550, "Payment, Tue, Mar 17, cash, CO"),
        (BACK, 1000, "Refund, Tue, Mar 17, cash, CO"),
        (
            {"what": "correction", "amount": "-5.50", "why": "typed 30, was 24.50"},
            2450,
            "Correction, Tue, Mar 17, cash, CO",
        ),
        (
            {"what": "correction", "amount": "+ 10", "why": "she gave 40"},
            4000,
            "Correction, Tue, Mar 17, cash, CO",
        ),
    ],
)
def test_a_sum_is_a_row_with_person_hour_and_reason_and_what_is_owed_follows(
    counter: Counter, store: Store, job: Job, typed: dict[str, str], paid_minor: int, words: str
):
    assert write(counter, job, **typed).status_code == 303
    row = bills.payments(store, job.ticket_id)[-1]
    assert (row.kind, row.staff_id, row.at, row.note) == (
        typed["what"],
        1,
        "2026-03-17T14:00:00Z",
        typed.get("why", ""),
    )
    due_minor = 6000 if typed["what"] == "refund" else 9000 - paid_minor
    assert (sums(store, job).paid_minor, sums(store, job).due_minor) == (paid_minor, due_minor)
    assert lists.paid_minor(store)[job.ticket_id] == paid_minor, (
        "the lists count as the ticket does"
    )
    page = counter.get(f"/tickets/{job.ticket_id}").text
    assert words in page
    assert f"${due_minor / 100:.2f}</dd>" in page
    assert typed.get("why", "") in page


def test_it_is_one_row_of_the_audit_without_the_reason(counter: Counter, store: Store, job: Job):
    before = store.value("SELECT count(*) FROM audit")
    write(counter, job, **BACK)
    row = store.rows("SELECT * FROM audit ORDER BY id DESC LIMIT 1")[0]
    assert (row["what"], row["ticket_id"], row["staff_id"], row["detail"]) == (
        "money-given-back",
        job.ticket_id,
        1,
        '{"amount": 2000}',
    )
    assert store.value("SELECT count(*) FROM audit") == before + 1
    assert integrity.broken_link(store, audit_key.of_folder(store.path.parent)) is None


@pytest.mark.parametrize(
    ("wrong", "words"),
    [
        ({"amount": "30.01"}, "Only $30.00 is paid. Refund at most that."),
        ({"amount": "-20"}, "Type an amount, like 45.00."),
        ({"amount": "0"}, "Type an amount above zero"),
        ({"amount": ""}, "Type an amount"),
        ({"amount": "1234567"}, "Type an amount"),
        ({"amount": "20.005"}, "Type an amount"),
        ({"why": ""}, "Type the reason in a few words."),
        ({"why": "x" * 201}, "Type 200 characters at most"),
        ({"why": "onto 4111-1111-1111-1111 again"}, "This looks like a card number"),
        ({"what": "correction", "amount": "-30.01"}, "Only $30.00 is paid. Take off at most that."),
        ({"what": "correction", "why": ""}, "Type the reason in a few words."),
        ({"what": "deposit"}, "Pick what it is"),
        ({"what": ""}, "Pick what it is"),
    ],
)
def test_bad_input_keeps_what_was_typed_and_stores_nothing(
    counter: Counter, store: Store, job: Job, wrong: dict[str, str], words: str
):
    typed = {**BACK, **wrong}
    answer = write(counter, job, **typed)
    assert answer.status_code == 422
    page = unescape(answer.text)
    assert words in page
    assert '<details class="aside" open' in page
    for name in ("amount", "why"):
        assert f'value="{typed[name]}"' in page
    if typed["what"] in payments.KINDS:
        assert f'checked id="what-{list(payments.KINDS).index(typed["what"])}"' in page
    assert len(bills.payments(store, job.ticket_id)) == 1


def test_sent_twice_it_is_one_sum(counter: Counter, store: Store, job: Job):
    for _ in range(2):
        assert write(counter, job, **BACK, submission_id="money-twice-01").status_code == 303
    assert len(bills.payments(store, job.ticket_id)) == 2


def test_two_who_give_back_the_same_do_it_once_and_the_second_sees_both(
    counter: Counter, owner: Counter, store: Store, job: Job
):
    """Saved again from the page that shows both it is meant so; never more than was paid."""
    seen = payments.last_id(bills.payments(store, job.ticket_id))
    assert write(owner, job, **BACK, version=seen).status_code == 303
    answer = write(counter, job, **{**BACK, "why": "no belt"}, version=seen)
    assert answer.status_code == 409
    page = unescape(answer.text)
    for words in ("no belt", "the belt was not done", "$20.00", "OW", "$10.00", "Save again"):
        assert words in page
    assert len(bills.payments(store, job.ticket_id)) == 2
    assert write(counter, job, **BACK).status_code == 422, "only 10 is left"
    assert write(counter, job, **{**BACK, "amount": "10"}).status_code == 303
    assert sums(store, job).paid_minor == 0


def test_on_a_phone_of_the_shop_taking_needs_initials_and_the_rest_the_pin(
    app: Flask, owner: Counter, store: Store, job: Job, clock: Clock
):
    """The shift was opened by PIN; for the rest it is asked for again after five minutes."""
    give_pins(store)
    phone = opened(taken_in(app, owner), "CO")
    assert write(phone, job, what="payment", amount="5", who=IDS["CO"]).status_code == 303
    at = store.value("SELECT max(id) FROM payments")
    clock.on(minutes=6)
    for typed in (BACK, {"what": "correction", "amount": "-5", "why": "typed wrong"}):
        answer = write(phone, job, **typed, who=IDS["CO"])
        assert answer.status_code == 422
        assert "Type your PIN to go on." in answer.text
        assert f'name="why" value="{typed["why"]}"' in answer.text, "the form is carried along"
        assert write(phone, job, **typed, who=IDS["CO"], pin="111111").status_code == 422
    assert write(phone, job, what="payment", amount="5", who=IDS["CO"]).status_code == 303, (
        "no PIN for taking"
    )
    assert store.value("SELECT count(*) FROM payments WHERE id > ?", at) == 1
    assert write(phone, job, **BACK, who=IDS["CO"], pin=PINS["CO"]).status_code == 303
    assert [one.kind for one in bills.payments(store, job.ticket_id)][-1] == "refund"


def test_the_sum_is_in_the_tickets_own_currency(counter: Counter, store: Store, job: Job):
    """Yen have no cents."""
    with store.write_tx():
        store.change("tickets", job.ticket_id, currency="JPY")
    assert write(counter, job, what="payment", amount="1.50").status_code == 422
    assert write(counter, job, what="payment", amount="150").status_code == 303
    assert bills.payments(store, job.ticket_id)[-1].amount_minor == 150
    assert "In JPY" in counter.get(f"/tickets/{job.ticket_id}").text


def test_a_sum_larger_than_the_file_takes_is_refused_in_words(
    counter: Counter, store: Store, job: Job
):
    """Dinars have three decimals."""
    with store.write_tx():
        store.change("tickets", job.ticket_id, currency="KWD")
    answer = write(counter, job, what="payment", amount="999999.999")
    assert answer.status_code == 422
    assert "too large. Type a smaller one" in answer.text


def test_neither_before_anything_is_agreed_nor_after_the_customer_was_erased(
    counter: Counter, owner: Counter, store: Store, job: Job, clock: Clock
):
    with store.write_tx():
        bare = tickets.add(
            store,
            Act(clock.now, 1),
            customers.add(store, Act(clock.now, 1), "Ada", ("", "", "")),
            currency="USD",
        )
        store.change("tickets", job.ticket_id, state="closed")
    erasure.erase(
        store,
        Act(clock.now, 3),
        tickets.get(store, job.ticket_id).customer_id,
        "Marisol Okafor-Lind",
    )
    for ticket_id in (bare, job.ticket_id):
        assert "Payments and refunds" not in counter.get(f"/tickets/{ticket_id}").text
        answer = counter.post(
            f"/tickets/{ticket_id}/money",
            what="payment",
            amount="5",
            method="cash",
            submission_id=f"money-none-{ticket_id}",
        )
        assert answer.status_code == 422
        assert "No payment can be saved" in answer.text
    assert store.value("SELECT count(*) FROM payments") == 1


def test_neither_a_stranger_nor_the_bench_and_never_by_a_get(
    stranger: Counter, bench: Counter, counter: Counter, store: Store, job: Job
):
    path = f"/tickets/{job.ticket_id}/money"
    assert stranger.client.post(path, data=BACK).status_code == 401
    assert "Payments and refunds" not in bench.get(f"/tickets/{job.ticket_id}").text
    assert bench.post(path, **BACK).status_code == 403
    assert counter.get(path).status_code == 405
    assert len(bills.payments(store, job.ticket_id)) == 1


@pytest.mark.parametrize(
    ("minor", "currency", "typed"),
    [
        (9000, "USD", "90"),
        (9050, "USD", "90.50"),
        (-550, "USD", "-5.50"),
        (-5, "USD", "-0.05"),
        (550, "JPY", "550"),
        (0, "USD", "0"),
    ],
)
def test_a_sum_is_shown_as_it_is_typed_also_below_nothing(minor: int, currency: str, typed: str):
    assert money.plain(minor, currency) == typed


def test_the_first_day_to_keep_and_the_whole_tickets_stand_together(
    counter: Counter, store: Store, job: Job
):
    """An earlier day of one thing is no promise that was moved."""
    with store.write_tx():
        store.change("tickets", job.ticket_id, promise_day="2026-03-27")
        store.change("items", job.bag, promised_day="2026-03-24")
    page = counter.get(f"/tickets/{job.ticket_id}").text
    assert "<dd>Tuesday, March 24" in page
    assert "all of it, Friday, March 27" in page
    assert "before, " not in page


def test_the_shelf_of_what_is_picked_up_is_named_nowhere(
    counter: Counter, store: Store, job: Job, clock: Clock
):
    with store.write_tx():
        store.change("items", job.left, state="out", shelf="C1")
        store.change("items", job.right, state="shelved", shelf="D4")
    page = counter.get(f"/tickets/{job.ticket_id}").text
    assert "shelf D4" in page
    assert "shelf C1" not in page
    sheet = evening_sheet.evening(store, shop.read(store), clock.now)
    assert "D4" in repr(sheet)
    assert "C1" not in repr(sheet)
