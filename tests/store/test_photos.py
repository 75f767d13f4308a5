"""Photos of one item, first to last."""

from __future__ import annotations

import pytest
from support.bench_cast import pair

from fitcounter.store import photos
from fitcounter.store.database import Act, Store
from fitcounter.store.records import Photo


@pytest.fixture
def act(clock) -> Act:
    return Act(clock.now, 1)


def test_photos_of_an_item_come_as_they_were_taken_with_their_view(store: Store, act: Act) -> None:
    boots = pair(store, act)
    with store.write_tx():
        for name, item_id, moment, taken_at in (
            ("b.jpg", boots.left, "after", "2026-03-12T10:00:00Z"),
            ("a.jpg", boots.left, "before", "2026-03-10T10:00:00Z"),
            ("s.jpg", boots.left, "slip", "2026-03-10T10:00:00Z"),
            ("r.jpg", boots.right, "before", "2026-03-10T10:00:00Z"),
        ):
            size = (1, 1, 1, "hash", taken_at, None, None, "front")
            row = Photo(0, boots.ticket_id, item_id, moment, None, name, *size)
            photos.add(store, act, row)
    found = photos.of_item(store, boots.left)
    assert [(one.file, one.view) for one in found] == [("a.jpg", "front"), ("b.jpg", "front")]
    with store.write_tx():
        photos.erase(store, act, found[0].id)
    assert [one.file for one in photos.of_item(store, boots.left)] == ["b.jpg"]
