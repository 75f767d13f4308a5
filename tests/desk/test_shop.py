"""Days are the shop's own, far from Greenwich too."""

from __future__ import annotations

import re
from datetime import UTC, date, datetime

import pytest

from fitcounter.desk import shop
from fitcounter.desk.book import estimate_csv
from fitcounter.desk.common.catch_up import catch_up
from fitcounter.desk.common.state_changes import StepInput
from fitcounter.desk.documents import receipt_and_letters as documents_customer
from fitcounter.desk.front_desk import calls_and_reminders, ticket_rows
from fitcounter.papers.pdf import page_press
from fitcounter.store import items, outcomes
from fitcounter.store.database import Act, Store

TEN_O_CLOCK = datetime(
    2026, 3, 16, 21, 0, tzinfo=UTC
)  # Tuesday the 17th, ten in the morning, in Auckland
TIER = {"tier": "stages", "likely": 1, "eight_in_ten": 2}


@pytest.fixture
def shelved(store: Store, job):
    shop.choose(store, Act(TEN_O_CLOCK), zone="Pacific/Auckland")
    for item_id in (job.left, job.right, job.bag):
        catch_up(store, Act(TEN_O_CLOCK, 1), item_id, "shelved", StepInput(TEN_O_CLOCK))
    return job


def test_ready_since_counts_reminders_from_the_shops_own_day(store: Store, shelved):
    here = shop.read(store)
    assert ticket_rows.ready_since(items.of_ticket(store, shelved.ticket_id), here) == date(
        2026, 3, 17
    )
    calls_and_reminders.keep(store, Act(TEN_O_CLOCK, 1), here, shelved.ticket_id, "called")
    assert store.value("SELECT again_day FROM calls") == "2026-03-24"
    rows = ticket_rows.open_rows(store, here, date(2026, 3, 24))
    assert [days for _, days in calls_and_reminders.not_fetched(rows, here, date(2026, 3, 24))] == [
        7
    ]


def test_the_letter_names_the_day_on_which_it_was_ready(store: Store, shelved):
    letter = documents_customer.notice(
        store, shop.read(store), shelved.ticket_id, TEN_O_CLOCK, page_press("/print.css", "")
    )
    assert re.search(r"ready since [^.]*\b17\b[^.]*\.", letter.decode())


def test_the_books_csv_says_both_days_by_the_shops_clock(store: Store, shelved):
    with store.write_tx():
        outcomes.add_prediction(store, Act(TEN_O_CLOCK, 1), shelved.left, TIER, None, None)
        store.insert(
            "steps",
            item_id=shelved.left,
            step="shelve",
            happened_at="2026-03-16T21:00:00Z",
            saved_at="2026-03-16T21:00:00Z",
            from_state="finished",
            to_state="shelved",
        )
    assert (
        b"".join(estimate_csv.parts(store, shop.read(store))).decode("utf-8-sig").splitlines()[1]
        == f"{shelved.left},2026-03-17,1,2,,0,2026-03-17,work finished"
    )
