"""Income by local days, with the payments behind each figure."""

from __future__ import annotations

from datetime import UTC, date, datetime

import pytest
from support.ticket_rows import Job, make_job

from fitcounter.desk.book import income_by_day
from fitcounter.desk.shop import Shop
from fitcounter.errors import BadInput
from fitcounter.store import bills
from fitcounter.store.database import Act, Store

NOW = datetime(2026, 3, 17, 14, 0, tzinfo=UTC)


@pytest.fixture
def paid(store: Store) -> Job:
    """Late on Monday evening in the shop's zone it is Tuesday in UTC."""
    job = make_job(store, Act(datetime(2026, 2, 28, 14, 0, tzinfo=UTC), 1))
    late = Act(datetime(2026, 3, 17, 3, 30, tzinfo=UTC), 1)
    with store.write_tx():
        bills.pay(store, late, job.ticket_id, "payment", 4500, method="card", tip_minor=200)
        bills.pay(store, Act(NOW, 1), job.ticket_id, "refund", 1000, "a scratch", method="cash")
    return job


def sums(store: Store, choices: Shop, by: str) -> dict[str, int]:
    page = income_by_day.look(store, choices, NOW, by, None)
    return {one.words: one.income_minor for one in page.periods if one.sums.number}


@pytest.mark.parametrize(
    ("by", "told"),
    [
        ("day", {"Tue, Mar 17": -1000, "Mon, Mar 16": 4500, "Sat, Feb 28": 3000}),
        ("week", {"Mon, Mar 16 to Tue, Mar 17": 3500, "Mon, Feb 23 to Sun, Mar 1": 3000}),
        ("month", {"March 2026": 3500, "February 2026": 3000}),
    ],
)
def test_a_payment_counts_on_the_shops_own_day(
    store: Store, choices: Shop, paid: Job, by: str, told: dict[str, int]
):
    assert sums(store, choices, by) == told


def test_each_figure_leads_to_its_payments_and_tips_are_apart(
    store: Store, choices: Shop, paid: Job
):
    day = date(2026, 3, 16)
    page = income_by_day.look(store, choices, NOW, "day", (day, day))
    assert [(one.number, one.amount_minor, one.method) for one in page.payments] == [
        (1, 4500, "card")
    ]
    assert page.chosen is not None
    assert (page.chosen.income_minor, page.chosen.sums.tips_minor) == (4500, 200)
    assert [(one.note, page.people[one.staff_id or 0]) for one in page.given_back] == [
        ("a scratch", "CO")
    ]


def test_another_currency_is_not_added_up_with_the_shops(store: Store, choices: Shop, paid: Job):
    with store.write_tx():
        store.change("tickets", paid.ticket_id, currency="JPY")
    assert sums(store, choices, "month") == {}


@pytest.mark.parametrize(
    ("by", "days"),
    [("hour", None), ("day", (date(2026, 3, 2), date(2026, 3, 1)))],
)
def test_what_is_no_span_is_said(store: Store, choices: Shop, by: str, days):
    with pytest.raises(BadInput):
        income_by_day.look(store, choices, NOW, by, days)
