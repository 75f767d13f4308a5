"""What the file says of income, by index and not by reading every payment."""

from __future__ import annotations

from support.cast import Clock
from support.query_plans import scanned
from support.ticket_rows import make_job

from fitcounter.store import income
from fitcounter.store.database import Act, Store


def test_sums_tell_in_from_out_and_tips_from_both(store: Store, clock: Clock):
    make_job(store, Act(clock.now, 1))
    spans = [("2025-01-01T00:00:00Z", "2026-01-01T00:00:00Z")]
    spans += [("2026-01-01T00:00:00Z", "2027-01-01T00:00:00Z")]
    nothing, found = income.sums(store, "USD", spans)
    assert (nothing.in_minor, nothing.number) == (0, 0)
    assert (found.in_minor, found.out_minor, found.tips_minor, found.number) == (3000, 0, 0, 1)
    assert income.billed(store, "2026-01-01T00:00:00Z", "2027-01-01T00:00:00Z") == []
    assert (
        scanned(store, "SELECT * FROM payments WHERE at >= '2026' AND at < '2027'", {"payments"})
        == set()
    )
