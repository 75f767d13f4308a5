"""A new passphrase or PIN of a person, and what ends with the old one."""

from __future__ import annotations

import pytest
from support.cast import PASSPHRASE, Clock

from fitcounter.desk.shop import Act, Store
from fitcounter.desk.staff import new_passphrase_or_pin, sign_in
from fitcounter.desk.staff.sign_in import Device
from fitcounter.errors import BadInput, NotAllowed

NEW = "four other pine words"


def test_a_new_passphrase_is_the_persons_own_and_the_old_one_is_not(store: Store, clock: Clock):
    new_passphrase_or_pin.set_secrets(store, Act(clock.now, 3), 1, passphrase=NEW)
    assert new_passphrase_or_pin.is_passphrase(store, 1, NEW)
    assert not new_passphrase_or_pin.is_passphrase(store, 1, PASSPHRASE)
    with pytest.raises(NotAllowed):
        sign_in.sign_in(store, clock.now, "CO", PASSPHRASE, Device())


def test_a_new_passphrase_ends_the_sessions_but_the_one_it_was_typed_in(store: Store, clock: Clock):
    for _ in range(2):
        sign_in.sign_in(store, clock.now, "CO", PASSPHRASE, Device())
    first, kept = [row["id"] for row in store.rows("SELECT id FROM sessions ORDER BY id")]
    act = Act(clock.now, 1)
    new_passphrase_or_pin.set_secrets(store, act, 1, passphrase=NEW, keep_session=kept)
    ended = store.rows("SELECT id FROM sessions WHERE ended_at IS NOT NULL")
    assert [row["id"] for row in ended] == [first]


def test_where_the_pin_is_refused_the_passphrase_stays_too(store: Store, clock: Clock):
    with pytest.raises(BadInput) as refused:
        new_passphrase_or_pin.set_secrets(store, Act(clock.now, 3), 1, passphrase=NEW, pin="123456")
    assert refused.value.field == "pin"
    assert new_passphrase_or_pin.is_passphrase(store, 1, PASSPHRASE)
