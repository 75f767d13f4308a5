"""Somebody who writes, and one invented job as rows, for the tests of the records."""

from __future__ import annotations

import pytest
from support.cast import Clock
from support.ticket_rows import Job, make_job

from fitcounter.store.database import Act, Store


@pytest.fixture
def act(clock: Clock) -> Act:
    return Act(clock.now, 1)


@pytest.fixture
def job(store: Store, act: Act) -> Job:
    return make_job(store, act)
