"""The owner's figures of some days, by hand on one ticket."""

from __future__ import annotations

from datetime import UTC, date, datetime, timedelta

import pytest
from support.bench_cast import tree
from support.ticket_rows import Job, make_job

from fitcounter.desk.book import income_by_day, month_figures
from fitcounter.desk.shop import Shop
from fitcounter.store import bills, works
from fitcounter.store.bills import NewLine
from fitcounter.store.database import Act, Store, utc_text

TAKEN = datetime(2026, 3, 2, 15, 0, tzinfo=UTC)
NOW = datetime(2026, 3, 20, 15, 0, tzinfo=UTC)
MARCH = (date(2026, 3, 1), date(2026, 3, 31))


@pytest.fixture
def gone(store: Store) -> Job:
    """Taken in on March 2, promised for the 10th, on the shelf late that evening (in UTC it is the
    11th), picked up on the 12th; heel tips for the left boot, a bag's line, a discount.
    """
    act = Act(TAKEN, 1)
    job, label = make_job(store, act, state="out"), tree(store, "4")
    out = utc_text(TAKEN + timedelta(days=10))
    with store.write_tx():
        work = {"what": "Heel tips", "timing": "any", "amount_minor": 1800}
        work_id = works.add(store, act, [job.left], ticket_id=job.ticket_id, **work)
        tips = NewLine("Heel tips, left boot", "job", 1800, item_id=job.left)
        works.bill(store, work_id, bills.add_line(store, job.ticket_id, tips))
        zipper = NewLine("tan bag: new zip", "job", 2400, item_id=job.bag)
        bills.add_line(store, job.ticket_id, zipper)
        bills.take_off(store, job.ticket_id, "Discount", 1000, "a regular")
        store.change(
            "tickets", job.ticket_id, state="out", handed_over_at=out, promise_day="2026-03-10"
        )
        bills.bill(store, job.ticket_id, out)
        for item_id in (job.left, job.right):
            at = "2026-03-11T02:30:00Z"
            moved = {"from_state": "finished", "to_state": "shelved", "saved_at": at}
            store.insert("steps", item_id=item_id, step="shelve", happened_at=at, **moved)
        store.db.execute("UPDATE items SET material = 'nubuck' WHERE side IS NOT NULL")
        on = {"on_at": "2026-03-03T15:00:00Z", "off_at": "2026-03-05T03:00:00Z"}
        store.insert("rounds", item_id=job.left, n=1, tree_id=label, **on)
    return job


def test_what_was_billed_is_told_by_work_and_by_leather(store: Store, choices: Shop, gone: Job):
    page = month_figures.look(store, choices, NOW, *MARCH)
    assert {one.words: one.amount for one in page.work} == {
        "Stretching": 9000,
        "Bag": 2400,
        "Heel tips": 1800,
        "Discounts and work not done": -1000,
    }
    assert {one.words: one.amount for one in page.leather} == {"nubuck": 9800, "No boots": 2400}
    assert (page.billed_minor, page.income_minor) == (12200, 3000)


def test_days_promises_and_trees_go_by_the_shops_own_clock(store: Store, choices: Shop, gone: Job):
    page = month_figures.look(store, choices, NOW, *MARCH)
    assert [page.one[name].number for name in ("taken", "picked-up", "open")] == [1, 1, 0]
    assert round(page.one["ready"].mean_days, 2) == 8.48
    assert page.one["home"].mean_days == 10
    assert (page.kept, page.promised) == (1, 1)
    busy = 36 / ((NOW - datetime(2026, 3, 1, 5, tzinfo=UTC)).total_seconds() / 3600)
    assert page.trees_busy == pytest.approx(busy)
    before = month_figures.look(store, choices, NOW, date(2026, 3, 1), date(2026, 3, 11))
    assert [before.one[name].number for name in ("picked-up", "open")] == [0, 1]


def test_a_job_that_is_open_holds_what_was_paid_in_advance(store: Store, choices: Shop):
    job = make_job(store, Act(TAKEN, 1))
    page = month_figures.look(store, choices, NOW, *MARCH)
    assert (page.one["held"].amount, page.one["owed"].amount) == (3000, 6000)
    with store.write_tx():  # picked up, paid, and back under the guarantee
        bills.pay(store, Act(TAKEN, 1), job.ticket_id, "payment", 6000)
        bills.bill(store, job.ticket_id, utc_text(NOW))
    page = month_figures.look(store, choices, NOW, *MARCH)
    assert (page.one["held"].amount, page.one["owed"].amount) == (0, 0)


@pytest.mark.parametrize(
    ("first", "last", "words"),
    [
        ("2026-03-01", "2026-03-31", "March 2026"),
        ("2026-03-01", "2026-03-20", "March 2026"),
        ("2026-03-01", "2026-03-19", "March 1, 2026 to March 19, 2026"),
        ("2026-03-05", "2026-03-05", "March 5, 2026"),
    ],
)
def test_days_are_called_by_their_month_where_they_are_one(first: str, last: str, words: str):
    span = (date.fromisoformat(first), date.fromisoformat(last))
    assert income_by_day.span_words(*span, date(2026, 3, 20)) == words
