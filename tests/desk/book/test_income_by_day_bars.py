"""Income day by day as a picture: to scale, on the shop's own days, refunds below the line."""

from __future__ import annotations

from datetime import UTC, date, datetime

from support.ticket_rows import make_job

from fitcounter.desk.book import income_by_day_bars
from fitcounter.desk.shop import Shop
from fitcounter.store import bills
from fitcounter.store.database import Act, Store

MARCH = (date(2026, 3, 1), date(2026, 3, 31))


def test_bars_are_to_scale_and_stand_on_the_shops_own_day(store: Store, choices: Shop):
    job = make_job(store, Act(datetime(2026, 3, 2, 15, 0, tzinfo=UTC), 1))
    late = Act(datetime(2026, 3, 17, 3, 30, tzinfo=UTC), 1)  # still the 16th at the shop
    with store.write_tx():
        bills.pay(store, late, job.ticket_id, "payment", 6000)
        bills.pay(store, late, job.ticket_id, "refund", 1500)
    drawn = income_by_day_bars.of_days(store, choices, *MARCH)
    assert drawn is not None
    tall = {n + 1: (bar.height, bar.below) for n, bar in enumerate(drawn.days) if bar.height}
    assert tall == {2: (75, 0), 16: (150, 37.5)}
    assert drawn.words == "Income day by day. The best day was Mon, Mar 16, with $60.00."
    assert [day for day, _ in drawn.weeks] == ["2", "9", "16", "23", "30"]


def test_more_than_a_month_and_days_without_money_are_not_drawn(store: Store, choices: Shop):
    assert income_by_day_bars.of_days(store, choices, *MARCH) is None
    make_job(store, Act(datetime(2026, 3, 2, 15, 0, tzinfo=UTC), 1))
    assert income_by_day_bars.of_days(store, choices, date(2026, 3, 1), date(2026, 4, 1)) is None
