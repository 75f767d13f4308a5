"""One invented job for the desk's tests: a pair of boots and a bag, agreed, in the queue."""

from __future__ import annotations

import pytest
from support.ticket_rows import Job, make_job

from fitcounter.desk import shop
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
