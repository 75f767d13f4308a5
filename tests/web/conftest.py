"""A customer's link, before and after the boots went home."""

from __future__ import annotations

import pytest
from support.cast import Clock
from support.ticket_rows import Job, make_job

from fitcounter.desk import shop
from fitcounter.desk.common import link_token
from fitcounter.desk.common.catch_up import catch_up
from fitcounter.desk.common.state_changes import StepInput
from fitcounter.desk.front_desk import pickup
from fitcounter.store import tickets
from fitcounter.store.database import Act, Store


@pytest.fixture
def job(store: Store, clock: Clock) -> Job:
    return make_job(store, Act(clock.now, 1))


@pytest.fixture
def token(store: Store, job: Job, tmp_path) -> str:
    made = link_token.link_token(link_token.link_key(tmp_path), tickets.get(store, job.ticket_id))
    with store.write_tx():
        store.change(
            "tickets",
            job.ticket_id,
            link_hash=link_token.link_hash(made),
            link_until="2027-12-31T00:00:00Z",
        )
    return made


@pytest.fixture
def home(store: Store, job: Job, token: str, clock: Clock) -> str:
    """Her link after the boots were handed over."""
    act = Act(clock.now, 1)
    things = (job.left, job.right, job.bag)
    for item_id in things:
        catch_up(store, act, item_id, "shelved", StepInput(act.at))
    handed = pickup.Handover(
        frozenset(things), act.at, "Marisol", preset="three-short-wears", hour=18
    )
    pickup.hand_over(store, act, job.ticket_id, handed, shop.read(store))
    return token
