"""Signing in: who is let in, by what, and how long a session stands."""

from __future__ import annotations

import pytest
from support.cast import PASSPHRASE, Clock

from fitcounter.desk.shop import Act, Store
from fitcounter.desk.staff import new_passphrase_or_pin, phones, sign_in
from fitcounter.desk.staff.sign_in import Device
from fitcounter.errors import NotAllowed
from fitcounter.store import staff


@pytest.mark.usefixtures("real_hashes")
def test_a_passphrase_hashed_under_an_older_policy_is_hashed_again(
    store: Store, clock: Clock
) -> None:
    """At the next sign-in; the old hash is gone, and the passphrase still opens."""
    import hashlib

    digest = hashlib.scrypt(PASSPHRASE.encode(), salt=b"old", n=2**14, r=8, p=1).hex()
    with store.write_tx():
        store.change("staff", 1, passphrase_hash=f"scrypt:16384:8:1$old${digest}")
    sign_in.sign_in(store, clock.now, "CO", PASSPHRASE, Device())

    assert staff.secrets_of(store, 1).passphrase_hash.startswith("scrypt:32768:8:3$")
    sign_in.sign_in(store, clock.now, "CO", PASSPHRASE, Device())


@pytest.mark.parametrize(
    "passphrase",
    [
        "👢 boots that will 👢 close",
        "x" * 30 + " and sixty-four characters or more, " + "qwe tyu",
        " leading and trailing ",
    ],
)
def test_a_passphrase_counts_as_it_was_typed(store: Store, clock: Clock, passphrase: str) -> None:
    """Long ones, spaces and signs of any script are kept to the byte (OWASP ASVS 5.0 6.2.8)."""
    new_passphrase_or_pin.set_secrets(store, Act(clock.now, 3), 1, passphrase=passphrase)
    sign_in.sign_in(store, clock.now, "CO", passphrase, Device())
    with pytest.raises(NotAllowed):
        sign_in.sign_in(store, clock.now, "CO", passphrase.strip() + "x", Device())


def test_a_session_lives_while_it_is_used_and_ten_hours_at_most(store: Store, clock: Clock) -> None:
    token = sign_in.sign_in(store, clock.now, "co", PASSPHRASE, Device())
    for _ in range(23):
        here = sign_in.who(store, token, clock.on(minutes=25), None)
        assert here is not None
        sign_in.touch(store, clock.now, here)
    assert sign_in.who(store, token, clock.on(minutes=24), None) is not None
    assert sign_in.who(store, token, clock.on(minutes=1), None) is None


def test_half_an_hour_of_nothing_ends_it_and_a_token_of_nobody_opens_nothing(
    store: Store, clock: Clock
) -> None:
    token = sign_in.sign_in(store, clock.now, "CO", PASSPHRASE, Device())
    assert sign_in.who(store, token + "x", clock.now, None) is None
    assert sign_in.who(store, token, clock.on(minutes=29), None) is not None
    assert sign_in.who(store, token, clock.on(minutes=1), None) is None
    sender = sign_in.sender_of(store, token, None)
    assert sender is not None
    assert sender.initials == "CO"


def test_signing_in_again_ends_the_session_before_and_ending_one_is_for_good(
    store: Store, clock: Clock
) -> None:
    first = sign_in.sign_in(store, clock.now, "CO", PASSPHRASE, Device())
    before = sign_in.who(store, first, clock.now, None)
    second = sign_in.sign_in(store, clock.now, "BE", PASSPHRASE, Device(), before)
    assert sign_in.who(store, first, clock.now, None) is None
    now = sign_in.who(store, second, clock.now, None)
    assert now is not None
    assert now.person.initials == "BE"
    sign_in.end_session(store, Act(clock.now, now.person.id), now.session_id)
    assert sign_in.who(store, second, clock.now, None) is None


def test_somebody_who_left_is_signed_in_no_more(store: Store, clock: Clock) -> None:
    token = sign_in.sign_in(store, clock.now, "CO", PASSPHRASE, Device())
    with store.write_tx():
        store.change("staff", 1, active=0)
    assert sign_in.who(store, token, clock.now, None) is None


def test_only_a_phone_of_the_shop_is_opened_with_a_pin(store: Store, clock: Clock) -> None:
    new_passphrase_or_pin.set_secrets(store, Act(clock.now, 3), 1, pin="740193")
    with pytest.raises(NotAllowed):
        sign_in.open_phone(store, clock.now, 1, "740193", Device())
    code = phones.new_code(store, Act(clock.now, 3))
    secret = phones.enrol(store, Act(clock.now, 3), code, "Bench")
    phone = phones.of_secret(store, secret)
    assert phone is not None
    with pytest.raises(NotAllowed):
        sign_in.open_phone(store, clock.now, 1, "740194", Device(phone=phone))
    token = sign_in.open_phone(store, clock.now, 1, "740193", Device(phone=phone))
    here = sign_in.who(store, token, clock.now, phone)
    assert here is not None
    assert (here.person.id, here.proved, here.asks_who) == (1, True, False)
    assert sign_in.who(store, token, clock.now, None) is None
    later = sign_in.who(store, token, clock.on(minutes=5), phone)
    assert later is not None
    assert (later.proved, later.asks_who) == (False, True)


def test_a_phone_that_was_retired_opens_nothing(store: Store, clock: Clock) -> None:
    new_passphrase_or_pin.set_secrets(store, Act(clock.now, 3), 1, pin="740193")
    owner = Act(clock.now, 3)
    secret = phones.enrol(store, owner, phones.new_code(store, owner), "Bench")
    phone = phones.of_secret(store, secret)
    assert phone is not None
    token = sign_in.open_phone(store, clock.now, 1, "740193", Device(phone=phone))
    sign_in.retire_phone(store, owner, phone.id)
    assert phones.of_secret(store, secret) is None
    assert sign_in.who(store, token, clock.now, phone) is None
