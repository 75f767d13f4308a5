"""Photos of one boot by the view they were taken from, first to last."""

from __future__ import annotations

from datetime import timedelta

import pytest
from support.bench_cast import Pair, pair
from support.pictures import picture

from fitcounter.desk.front_desk import photos
from fitcounter.desk.front_desk.photos_by_view import views
from fitcounter.errors import BadInput
from fitcounter.store.database import Act, Store


@pytest.fixture
def boots(store: Store, act: Act) -> Pair:
    return pair(store, act)


def shoot(store: Store, act: Act, item_id: int, moment: str, view: str, day: int) -> int:
    shot = photos.Shot(moment, picture(), act.at + timedelta(days=day), view)
    row_id = photos.keep_of_item(store, act, item_id, shot).row_id
    assert row_id is not None
    return row_id


def test_each_view_has_its_first_photo_every_round_and_the_last_of_each_moment(
    store: Store, act: Act, boots: Pair
) -> None:
    first = shoot(store, act, boots.left, "before", "front", 0)
    again = shoot(store, act, boots.left, "before", "front", 1)
    shoot(store, act, boots.left, "before", "front", 0)
    round_ids = []
    for n in (1, 2):
        with store.write_tx():
            store.insert("rounds", item_id=boots.left, n=n, on_at="2026-03-10T10:00:00Z")
        round_ids.append(shoot(store, act, boots.left, "round", "front", 2 + n))
    after = shoot(store, act, boots.left, "after", "front", 9)
    back = shoot(store, act, boots.left, "before", "back", 0)
    shoot(store, act, boots.right, "before", "front", 0)
    shoot(store, act, boots.left, "slip", "front", 0)
    found = {one.key: one for one in views(store, boots.left)}
    assert list(found) == ["front", "outside", "inside", "back", ""]
    assert [(one.photo_id, one.words) for one in found["front"].pictures] == [
        (first, "before"),
        (again, "before"),
        (round_ids[0], "round 1"),
        (round_ids[1], "round 2"),
        (after, "after"),
    ]
    assert [one.photo_id for one in found["back"].pictures] == [back]
    assert found["inside"].pictures == ()


def test_a_view_that_is_none_is_refused(store: Store, act: Act, boots: Pair) -> None:
    with pytest.raises(BadInput, match="from where"):
        shoot(store, act, boots.left, "before", "above", 0)


def test_an_erased_photo_is_gone_from_its_view(store: Store, act: Act, boots: Pair) -> None:
    photos.erase(store, act, shoot(store, act, boots.left, "before", "front", 0))
    assert not any(one.pictures for one in views(store, boots.left))
