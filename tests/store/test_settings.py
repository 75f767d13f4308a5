"""The shop's choices in the file, one by one."""

from __future__ import annotations

from fitcounter.store import settings
from fitcounter.store.database import Store


def test_a_value_is_read_as_it_was_put_and_none_where_there_is_none(store: Store):
    assert settings.get(store, "mail") is None
    with store.write_tx():
        settings.put(store, "mail", {"host": "ñ", "kinds": ["ready"]})
    assert settings.get(store, "mail") == {"host": "ñ", "kinds": ["ready"]}
    with store.write_tx():
        settings.put(store, "mail", None)
    assert settings.get(store, "mail") is None
