"""Change the price: a discount in a few taps, a rise by phone, and both agreements to print."""

from __future__ import annotations

import re
from html import unescape
from pathlib import Path

import pytest
from support.cast import Clock, Counter
from support.counter_forms import fresh, value
from support.ticket_rows import Job, make_job

from fitcounter.desk import shop
from fitcounter.desk.documents import claim_check_and_tags as documents_ticket
from fitcounter.store import bills, items, tickets
from fitcounter.store.database import Act, Store


@pytest.fixture
def job(store: Store, clock: Clock) -> Job:
    act = Act(clock.now, 1)
    job = make_job(store, act)
    with store.write_tx():
        tickets.add_consent(store, act, job.ticket_id, "2026-3", ["It may crease."], name="Marisol")
    return job


def as_shown(page: str) -> dict[str, object]:
    """What the page sends when nothing on it is touched."""
    lines = re.findall(r'name="(line_\w+)"[^>]*? value="([^"]*)"', page)
    return {
        **{name: unescape(text) for name, text in lines},
        "submission_id": fresh(),
        "version": value(page, "version"),
        "name": value(page, "name"),
    }


def test_a_discount_asks_for_its_reason_alone_and_stands_on_ticket_and_claim_check(
    counter: Counter, store: Store, job: Job
):
    page = counter.get(f"/tickets/{job.ticket_id}/price").text
    assert "Total now $90.00, agreed up to $90.00." in unescape(page)
    sent = {**as_shown(page), "discount": "10%", "discount_why": "a regular"}
    assert counter.post(f"/tickets/{job.ticket_id}/price", **sent).status_code == 303
    ticket = unescape(counter.get(f"/tickets/{job.ticket_id}").text)
    assert "The total is $81.00 now." in ticket
    assert "Discount, 10% (a regular)" in ticket
    assert "−$9.00</dd>" in ticket
    assert "$51.00</dd>" in ticket


def test_a_rise_by_phone_makes_a_new_copy_and_the_old_one_still_prints(
    counter: Counter, store: Store, job: Job, tmp_path: Path
):
    line = bills.lines(store, job.ticket_id)[0].id
    page = counter.get(f"/tickets/{job.ticket_id}/price").text
    sent = {**as_shown(page), f"line_{line}_amount": "120", "why": "a third round"}
    answer = counter.post(f"/tickets/{job.ticket_id}/price", **sent)
    assert answer.status_code == 422
    assert "Ask the customer first." in answer.text
    assert 'value="a third round"' in answer.text
    sent |= {"yes": "phone", "submission_id": fresh()}
    assert counter.post(f"/tickets/{job.ticket_id}/price", **sent).status_code == 303

    old, _ = tickets.consents(store, job.ticket_id)
    ticket = counter.get(f"/tickets/{job.ticket_id}").text
    assert f"consent.pdf?copy={old.id}" in ticket
    here = shop.read(store)
    new = documents_ticket.consent_record(store, here, job.ticket_id, tmp_path)
    assert (new.price, new.change) == (
        "$120.00",
        "The price was changed: a third round. You agreed by phone.",
    )
    before = documents_ticket.consent_record(store, here, job.ticket_id, tmp_path, old.id)
    assert (before.price, before.change) == ("$90.00", "")


def test_a_blank_price_asks(counter: Counter, store: Store, job: Job):
    line = bills.lines(store, job.ticket_id)[0].id
    page = counter.get(f"/tickets/{job.ticket_id}/price").text
    sent = {**as_shown(page), f"line_{line}_amount": "", "why": "so", "yes": "text"}
    answer = counter.post(f"/tickets/{job.ticket_id}/price", **sent)
    assert answer.status_code == 422
    assert "Type the price, or 0 if it is free." in answer.text
    assert bills.lines(store, job.ticket_id)[0].amount_minor == 9000


def test_the_second_of_two_sees_what_the_first_agreed(
    counter: Counter, owner: Counter, store: Store, job: Job
):
    page = counter.get(f"/tickets/{job.ticket_id}/price").text
    mine = {**as_shown(page), "discount": "20", "discount_why": "late"}
    owner.get(f"/tickets/{job.ticket_id}/price")
    theirs = {**mine, "discount": "10%", "discount_why": "a regular", "submission_id": fresh()}
    assert owner.post(f"/tickets/{job.ticket_id}/price", **theirs).status_code == 303
    answer = counter.post(f"/tickets/{job.ticket_id}/price", **mine)
    assert answer.status_code == 409
    shown = unescape(answer.text)
    assert "late" in shown
    assert "Discount, 10%" in shown
    assert len(bills.lines(store, job.ticket_id)) == 2


def test_a_rush_by_phone_is_seen_on_today_and_the_bench_until_it_is_taken_off(
    counter: Counter, store: Store, job: Job
):
    where = f"/tickets/{job.ticket_id}/price"
    page = counter.get(where).text
    assert counter.post(where, **{**as_shown(page), "rush": "y"}).status_code == 422
    assert counter.post(where, **{**as_shown(page), "rush": "y", "yes": "phone"}).status_code == 303
    ticket = unescape(counter.get(f"/tickets/{job.ticket_id}").text)
    assert "The total is $115.00 now." in ticket
    assert "<strong>Rush job</strong>" in ticket
    assert all("<b>Rush</b>" in counter.get(page).text for page in ("/", "/bench"))
    item = f"/items/{items.of_ticket(store, job.ticket_id)[0].id}"
    assert "<strong>Rush job</strong>" in counter.get(item).text

    shown = as_shown(counter.get(where).text)
    assert counter.post(where, **shown).status_code == 303
    assert tickets.get(store, job.ticket_id).rush == 0
    assert not any("<b>Rush</b>" in counter.get(page).text for page in ("/", "/bench"))
    assert "<strong>Rush job</strong>" not in counter.get(item).text


def test_what_was_typed_for_a_line_that_is_gone_still_stands(
    counter: Counter, store: Store, job: Job
):
    """Somebody else took the line out meanwhile: its words and its amount are shown, not stored."""
    sent = as_shown(counter.get(f"/tickets/{job.ticket_id}/price").text)
    sent |= {"line_9001_what": "Heel tips, brass", "line_9001_amount": "17.35", "discount": "x"}
    answer = counter.post(f"/tickets/{job.ticket_id}/price", **sent)
    assert answer.status_code == 422
    shown = unescape(answer.text)
    assert "Typed for a line that is not on this ticket: Heel tips, brass" in shown
    assert "Typed for a line that is not on this ticket: 17.35" in shown
    assert len(bills.lines(store, job.ticket_id)) == 1
