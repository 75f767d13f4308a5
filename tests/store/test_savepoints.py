"""A part of a write that fails alone."""

from __future__ import annotations

import pytest

from fitcounter.errors import Conflict
from fitcounter.store.database import Store
from fitcounter.store.savepoints import savepoint


def a_part_that_fails(store: Store) -> None:
    with savepoint(store):
        store.insert("kept", n=2)
        raise ValueError("no plan")


def test_a_part_that_fails_is_undone_and_the_rest_of_the_write_stays(store: Store) -> None:
    with store.write_tx():
        store.db.execute("CREATE TABLE kept (n INTEGER PRIMARY KEY)")
        store.insert("kept", n=1)
        with pytest.raises(ValueError, match="no plan"):
            a_part_that_fails(store)
        store.insert("kept", n=3)
    assert [row["n"] for row in store.rows("SELECT n FROM kept")] == [1, 3]


def test_a_broken_rule_of_the_file_in_a_part_is_a_conflict(store: Store) -> None:
    with store.write_tx():
        store.db.execute("CREATE TABLE kept (n INTEGER PRIMARY KEY)")
        store.insert("kept", n=1)
        with pytest.raises(Conflict), savepoint(store):
            store.insert("kept", n=1)
    assert store.value("SELECT count(*) FROM kept") == 1
