"""A shop with limits, and the ticket of a pair and a bag that waits for a yes."""

from __future__ import annotations

import pytest
from support.offered_pair import pair_and_bag, with_limits

from fitcounter.desk import shop
from fitcounter.store.database import Act, Store


@pytest.fixture
def here(store: Store, act: Act) -> shop.Shop:
    return with_limits(store, act)


@pytest.fixture
def ticket_id(store: Store, act: Act, here: shop.Shop) -> int:
    return pair_and_bag(store, act)
