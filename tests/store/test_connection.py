"""What every connection to the shop's file keeps to."""

from __future__ import annotations

from fitcounter.store.database import Store, dbapi, wal_is_safe


def test_every_connection_keeps_its_promises(store: Store):
    assert store.value("PRAGMA foreign_keys") == 1
    assert store.value("PRAGMA secure_delete") == 1
    assert store.value("PRAGMA trusted_schema") == 0
    assert store.value("PRAGMA busy_timeout") == 5000
    mode = store.value("PRAGMA journal_mode")
    assert (mode, store.value("PRAGMA synchronous")) == (
        ("wal", 2) if wal_is_safe(dbapi.sqlite_version_info) else ("delete", 3)
    )
