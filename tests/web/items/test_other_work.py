"""A job on one boot, saved on the boot's own page."""

from __future__ import annotations

from html import unescape

import pytest
from support.cast import Clock, Counter
from support.counter_forms import fresh
from support.ticket_rows import Job, make_job

from fitcounter.store import works
from fitcounter.store.database import Act, Store


@pytest.fixture
def job(store: Store, clock: Clock) -> Job:
    act = Act(clock.now, 1)
    made = make_job(store, act)
    with store.write_tx():
        for what, timing in (("New zipper", "after"), ("Heel tips", "any")):
            row = {"ticket_id": made.ticket_id, "what": what, "timing": timing, "days": 1}
            works.add(store, act, [made.left, made.right], **row)
    return made


def test_work_is_listed_in_its_order_on_the_boot_and_on_the_bench(
    counter: Counter, store: Store, job: Job
):
    shown = unescape(counter.get(f"/items/{job.left}").text)
    assert "Work on this boot" in shown
    assert "after stretching" in shown
    bench = unescape(counter.get("/bench").text)
    assert "Other work on boots and items" in bench
    assert "Heel tips: to do" in bench
    assert "New zipper: " not in bench, "it waits"


def test_one_is_done_with_a_note_and_one_that_waits_asks_first(
    counter: Counter, store: Store, job: Job
):
    zip_line, tips = works.of_item(store, job.left)
    if zip_line.what != "New zipper":
        zip_line, tips = tips, zip_line
    counter.get(f"/items/{job.left}")
    url = f"/items/{job.left}/works/{tips.id}"
    done = {"to": "done", "seen": "waiting", "note": "the left one was loose"}
    answer = counter.post(url, submission_id=fresh(), **done)
    assert answer.status_code == 303
    shown = unescape(counter.get(f"/items/{job.left}").text)
    assert "Left 1, Heel tips: done." in shown
    assert "the left one was loose" in shown
    url = f"/items/{job.left}/works/{zip_line.id}"
    answer = counter.post(url, submission_id=fresh(), to="done", seen="waiting", note="")
    assert answer.status_code == 422
    assert "Tick this if it is done now all the same." in answer.text
    again = {"to": "done", "seen": "waiting", "note": "", "anyway": "y"}
    assert counter.post(url, submission_id=fresh(), **again).status_code == 303
    assert works.open_of_item(store, job.left) == []


def test_somebody_quicker_is_told(counter: Counter, store: Store, job: Job):
    (line,) = [one for one in works.of_item(store, job.left) if one.what == "Heel tips"]
    counter.get(f"/items/{job.left}")
    url = f"/items/{job.left}/works/{line.id}"
    assert counter.post(url, submission_id=fresh(), to="working", seen="waiting").status_code == 303
    answer = counter.post(url, submission_id=fresh(), to="working", seen="waiting")
    assert answer.status_code == 409
    assert "Someone changed this" in answer.text
