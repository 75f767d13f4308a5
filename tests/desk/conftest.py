"""One invented job for the desk's tests: a pair of boots and a bag, agreed, in the queue; and at
home with their customer.
"""

from __future__ import annotations

import pytest
from support.ticket_rows import Job, make_job

from fitcounter.desk import shop
from fitcounter.desk.common.catch_up import catch_up
from fitcounter.desk.common.state_changes import StepInput
from fitcounter.desk.front_desk import pickup
from fitcounter.desk.shop import Shop
from fitcounter.store.database import Act, Store


@pytest.fixture
def act(clock) -> Act:
    return Act(clock.now, 1)


@pytest.fixture
def choices(store: Store) -> Shop:
    return shop.read(store)


@pytest.fixture
def job(store: Store, act: Act) -> Job:
    return make_job(store, act)


@pytest.fixture
def home(store: Store, job, act: Act):
    """The boots are at home since now, read at 14 1/2 in rested, outside, at the mark."""
    with store.write_tx():
        for item_id in (job.left, job.right):
            store.insert(
                "rounds",
                item_id=item_id,
                n=1,
                mark_um=304800,
                before_um=361950,
                before_text="14 1/4",
                on_at="2026-03-01T10:00:00Z",
                off_at="2026-03-08T10:00:00Z",
                rested_um=368300,
                rested_text="14 1/2",
                rested_method="outside",
                rested_at="2026-03-09T10:00:00Z",
            )
        store.insert(
            "leg_readings",
            fit_id=job.fit_id,
            side="left",
            height_um=304800,
            height_text="12",
            girth_um=365125,
            girth_text="14 3/8",
            unit="in",
            repeat=1,
            read_at="2026-03-01T10:00:00Z",
        )
    for item_id in (job.left, job.right, job.bag):
        catch_up(store, act, item_id, "shelved", StepInput(act.at))
    things = frozenset((job.left, job.right, job.bag))
    pickup.hand_over(
        store,
        act,
        job.ticket_id,
        pickup.Handover(things, act.at, "Marisol", preset="three-short-wears"),
        shop.read(store),
    )
    return job
