"""Boots that wait at the bench, as its lists hold them."""

from __future__ import annotations

import pytest
from support.bench_cast import bag, pair
from support.cast import Clock

from fitcounter.desk.bench.board import Entry
from fitcounter.store import bench_board
from fitcounter.store.database import Act, Store


@pytest.fixture
def entries(store: Store, clock: Clock) -> list[Entry]:
    """Right and left of 41 with the left of 42 between them, and the bag of 41."""
    first, second = pair(store, Act(clock.now)), pair(store, Act(clock.now), 42)
    ids = (first.right, second.left, first.left, bag(store, first.ticket_id))
    rows = [bench_board.one(store, one) for one in ids]
    return [Entry(row, clock.now) for row in rows if row]
