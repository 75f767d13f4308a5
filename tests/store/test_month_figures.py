"""The sources of the owner's figures: sum and rows agree, and years of finished work are not read
for the figures of a month.
"""

from __future__ import annotations

import pytest
from support.cast import Clock
from support.query_plans import scanned
from support.ticket_rows import make_job

from fitcounter.store import bills, month_figures
from fitcounter.store.database import Act, Store
from fitcounter.store.month_figures import FigureSpan

EVER = FigureSpan("2026-01-01T00:00:00Z", "2027-01-01T00:00:00Z", "USD")
GROWING = {"tickets", "price_lines", "payments", "rounds", "items", "steps"}


@pytest.mark.parametrize("source", month_figures.SOURCES)
def test_a_sum_is_that_of_its_rows(store: Store, clock: Clock, source: str):
    job = make_job(store, Act(clock.now, 1))
    with store.write_tx():
        bills.bill(store, job.ticket_id, "2026-03-17T15:00:00Z")
    sums, rows = month_figures.sums(store, source, EVER), month_figures.rows(store, source, EVER)
    assert sum(one.amount for one in sums) == sum(row.amount for row in rows)
    assert sum(one.number for one in sums) == len(rows)
    for one in sums:
        assert len(month_figures.rows(store, source, EVER, one.grp)) == one.number
    assert len(month_figures.instants(store, source, EVER)) == len(rows)


@pytest.mark.parametrize("source", month_figures.SOURCES)
def test_no_source_reads_a_table_that_grows_from_end_to_end(store: Store, source: str):
    statement = month_figures._NAMED[source]
    for place, value in enumerate((EVER.first, EVER.last, EVER.currency), start=1):
        statement = statement.replace(f"?{place}", f"'{value}'")
    assert scanned(store, statement, GROWING) == set()
