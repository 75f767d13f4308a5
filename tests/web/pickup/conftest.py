"""A job that is ready: pair and bag stand on the shelf."""

from __future__ import annotations

import pytest
from support.cast import Clock
from support.ticket_rows import Job, make_job

from fitcounter.desk.common.catch_up import catch_up
from fitcounter.desk.common.state_changes import StepInput
from fitcounter.store.database import Act, Store


@pytest.fixture
def shelved(store: Store, clock: Clock) -> Job:
    act = Act(clock.now, 1)
    job = make_job(store, act)
    for item_id in (job.left, job.right, job.bag):
        catch_up(store, act, item_id, "shelved", StepInput(act.at, columns={"shelf": "C2"}))
    return job
