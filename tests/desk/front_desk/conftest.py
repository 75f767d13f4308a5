"""All of a job on its shelf, for the tests of the front desk."""

from __future__ import annotations

import pytest

from fitcounter.desk.common.catch_up import catch_up
from fitcounter.desk.common.state_changes import StepInput
from fitcounter.store.database import Act, Store


@pytest.fixture
def shelved(store: Store, job, act: Act):
    """The job with all three things on the shelf."""
    for item_id in (job.left, job.right, job.bag):
        catch_up(store, act, item_id, "shelved", StepInput(act.at, columns={"shelf": "C2"}))
    return job
