"""Wearing-in calendars as rows: read as they were written, and numbered for phone calendars."""

from __future__ import annotations

from dataclasses import replace

import pytest
from support.ticket_rows import Job
from support.wearing_cast import fetched, worn

from fitcounter.errors import NotFound
from fitcounter.store import wears
from fitcounter.store.database import Store


def test_a_plan_is_read_as_it_was_written_with_what_was_worn(store: Store, job: Job):
    plan = replace(worn(fetched(), 1, 1), notes=("damp-day",))
    with store.write_tx():
        wears.add(store, job.ticket_id, plan, "es")
    row, read = wears.get(store, job.ticket_id)
    assert read == plan
    assert (row.language, row.sequence) == ("es", 0)


def test_a_plan_written_again_takes_the_place_of_the_old_one_with_the_next_number(
    store: Store, job: Job
):
    changed = worn(fetched(), 1, 1)
    with store.write_tx():
        first = wears.add(store, job.ticket_id, fetched(), "en")
        assert wears.add(store, job.ticket_id, changed, "en") == first
    row, read = wears.get(store, job.ticket_id)
    assert read == changed
    assert row.sequence == 1


def test_a_job_that_was_not_picked_up_has_no_calendar(store: Store, job: Job):
    assert wears.of_ticket(store, job.ticket_id) is None
    with pytest.raises(NotFound):
        wears.get(store, job.ticket_id)
