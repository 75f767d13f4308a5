"""The list behind a figure: its rows, in the words of what they add."""

from __future__ import annotations

from datetime import UTC, date, datetime

import pytest
from support.ticket_rows import Job, make_job

from fitcounter.desk.book import month_figure_rows
from fitcounter.desk.shop import Shop
from fitcounter.errors import NotFound
from fitcounter.store import bills
from fitcounter.store.database import Act, Store

NOW = datetime(2026, 3, 20, 15, 0, tzinfo=UTC)
MARCH = (date(2026, 3, 1), date(2026, 3, 31))


@pytest.fixture
def job(store: Store) -> Job:
    """Ready a day late, picked up on the day after, with a discount."""
    job = make_job(store, Act(datetime(2026, 3, 2, 15, 0, tzinfo=UTC), 1), state="out")
    with store.write_tx():
        bills.take_off(store, job.ticket_id, "Discount", 1000)
        out = "2026-03-13T15:00:00Z"
        store.change("tickets", job.ticket_id, handed_over_at=out, promise_day="2026-03-11")
        bills.bill(store, job.ticket_id, out)
        at = "2026-03-12T15:00:00Z"
        moved = {"from_state": "finished", "to_state": "shelved", "saved_at": at}
        store.insert("steps", item_id=job.left, step="shelve", happened_at=at, **moved)
    return job


@pytest.mark.parametrize(
    ("name", "of", "title", "rows", "total"),
    [
        ("work", "less", "Work billed: Discounts and work not done", ["−$10.00"], "−$10.00"),
        ("work", None, "Work billed", ["$90.00", "−$10.00"], "$80.00"),
        ("picked-up", None, "Picked up", [""], "1 ticket"),
        ("late", None, "Ready after the promised day", ["10 days"], "1 ticket"),
        ("kept", None, "Promised day kept", [], "0 tickets"),
        ("ready", None, "Days from taken in to ready", ["10 days"], "10 days on average"),
        ("home", None, "Days from taken in to picked up", ["11 days"], "11 days on average"),
        ("trees", None, "Days on the trees", [], "0 days"),
    ],
)
def test_each_row_says_what_it_adds_and_the_head_what_they_come_to(
    store: Store,
    choices: Shop,
    job: Job,
    name: str,
    of: str | None,
    title: str,
    rows: list[str],
    total: str,
):
    behind = month_figure_rows.behind(store, choices, NOW, name, MARCH, of)
    assert (behind.title, behind.total, behind.words) == (title, total, "March 2026")
    assert [adds for _, adds in behind.rows] == rows
    assert {row.number for row, _ in behind.rows} <= {1}


def test_a_figure_of_another_name_is_none(store: Store, choices: Shop):
    with pytest.raises(NotFound):
        month_figure_rows.behind(store, choices, NOW, "profit", MARCH)
