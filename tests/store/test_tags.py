"""Tags that are never used twice."""

from __future__ import annotations

import pytest

from fitcounter.errors import NotFound
from fitcounter.fit.tagcode import read_code
from fitcounter.store import tags
from fitcounter.store.database import Act, Store


def test_a_replaced_tag_is_dead_and_says_what_took_its_place(store: Store, act: Act):
    with store.write_tx():
        old = tags.make(store, act, 41, "left")
        new = tags.replace(store, act, old)
    dead, living = tags.get(store, old), tags.get(store, new)
    assert dead.died_at is not None
    assert dead.replaced_by == living.id
    assert (living.number, living.side, living.died_at) == (41, "left", None)
    assert dead.code != living.code
    assert read_code(living.code) == living.code
    assert [tag.id for tag in tags.by_number(store, 41)] == [living.id]
    assert tags.by_number(store, 41, "right") == []


def test_a_code_of_another_shop_is_not_found(store: Store):
    with pytest.raises(NotFound):
        tags.by_code(store, "7K3M9QXWE")
