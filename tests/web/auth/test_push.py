"""Somebody at the shop lets a phone of theirs get messages."""

from __future__ import annotations

from support.cast import Counter
from support.push_service import ANY_PHONE

from fitcounter.store import push_phones, settings
from fitcounter.store.database import Store


def test_it_is_offered_where_the_shop_sends_messages_and_ends_with_one_tap(
    counter: Counter, store: Store
):
    assert "Messages on this phone" not in counter.get("/me").text
    with store.write_tx():
        settings.put(store, "push", {"on": True, "hosts": ["fcm.googleapis.com"]})
    assert "Messages on this phone" in counter.get("/me").text
    assert counter.post("/me/push", **ANY_PHONE).status_code == 204
    (phone,) = push_phones.of_staff(store)
    assert (phone.staff_id, phone.ticket_id) == (1, None)
    assert counter.post("/me/push/end").status_code == 303
    assert push_phones.of_staff(store) == []
