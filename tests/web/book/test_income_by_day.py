"""The owner sees income with its tickets, and nobody else does."""

from __future__ import annotations

from html import unescape

import pytest
from support.cast import Clock, Counter
from support.ticket_rows import Job, make_job

from fitcounter.store.database import Act, Store


@pytest.fixture
def job(store: Store, clock: Clock) -> Job:
    return make_job(store, Act(clock.now, 1))


def test_a_day_leads_to_its_payments_and_they_to_their_tickets(owner: Counter, job: Job):
    page = unescape(owner.get("/book/income").text)
    assert "Tue, Mar 17" in page
    assert "$30.00" in page
    assert "first=2026-03-17&last=2026-03-17" in page
    day = owner.get("/book/income?by=day&first=2026-03-17&last=2026-03-17").text
    assert f'href="/tickets/{job.ticket_id}"' in day
    assert "Marisol Okafor-Lind" in day


def test_the_file_is_sent_with_a_name_of_its_days(owner: Counter, job: Job):
    answer = owner.get("/book/income.csv?first=2026-03-01&last=2026-03-31")
    assert answer.status_code == 200
    assert "income-2026-03-01-2026-03-31.csv" in answer.headers["Content-Disposition"]
    assert "Marisol Okafor-Lind" in answer.text


@pytest.mark.parametrize(
    "asked", ["first=x", "first=2026-03-02&last=2026-03-01", "first=0001-01-01", "by=hour"]
)
def test_what_is_no_span_is_said(owner: Counter, job: Job, asked: str):
    answer = owner.get(f"/book/income?{asked}")
    assert answer.status_code == 422
    assert "Pick" in answer.text


def test_neither_counter_nor_bench(counter: Counter, bench: Counter, job: Job):
    for path in ("/book/income", "/book/income.csv"):
        assert counter.get(path).status_code == 403
        assert bench.get(path).status_code == 403
