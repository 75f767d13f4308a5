"""Merging two entries at the counter: from the ticket, in few taps, and back."""

from __future__ import annotations

import json
from html import unescape

from support.cast import Clock, Counter
from support.counter_forms import fresh
from support.ticket_rows import make_job

from fitcounter.store import tickets
from fitcounter.store.database import Act, Store


def test_from_the_details_to_one_customer_and_back(counter: Counter, store: Store, clock: Clock):
    act = Act(clock.now, 1)
    first, second = (make_job(store, act, name) for name in ("Marisol Lind", "Lind Marisol"))
    other = tickets.get(store, second.ticket_id).customer_id
    page = f"/tickets/{first.ticket_id}/merge"
    assert page in counter.get(f"/tickets/{first.ticket_id}/details").text
    assert f"{page}/{other}" in counter.get(page).text
    shown = unescape(counter.get(f"{page}/{other}").text)
    assert "Both have open work: tickets 1 and 2." in shown
    stamp = json.dumps(json.loads(shown.split('name="stamp" value="')[1].split('"')[0]))
    form = {"keep": other, "stamp": stamp}
    answer = counter.post(f"{page}/{other}", submission_id=fresh(), **form)
    assert answer.status_code == 422
    assert "Tick this if they are the same person" in answer.text
    answer = counter.post(f"{page}/{other}", submission_id=fresh(), **form, sure="y")
    assert answer.status_code == 303
    assert "Lind Marisol is one customer now" in counter.get(answer.location).text
    assert tickets.get(store, first.ticket_id).customer_id == other
    assert "Merged with Marisol Lind" in counter.get(page).text
    counter.post(f"{page}/undo", submission_id=fresh())
    assert tickets.get(store, first.ticket_id).customer_id != other


def test_somebody_else_who_changed_one_meanwhile_is_told_in_a_sentence(
    counter: Counter, store: Store, clock: Clock
):
    act = Act(clock.now, 1)
    first, second = (make_job(store, act, name) for name in ("Marisol Lind", "Lind Marisol"))
    other = tickets.get(store, second.ticket_id).customer_id
    form = {"keep": other, "stamp": "[[1, 7]]", "sure": "y"}
    page = f"/tickets/{first.ticket_id}/merge/{other}"
    counter.get(page)
    answer = counter.post(page, submission_id=fresh(), **form)
    assert answer.status_code == 409
    assert "Someone changed this" in answer.text
    assert tickets.get(store, first.ticket_id).customer_id != other
