"""Signing in: who is let in, by what, and how long a session stands."""

from __future__ import annotations

import pytest
from support.cast import PASSPHRASE, Clock

from fitcounter.desk.shop import Act, Store
from fitcounter.desk.staff import people, sign_in
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
    people.set_secrets(store, Act(clock.now, 3), 1, passphrase=passphrase)
    sign_in.sign_in(store, clock.now, "CO", passphrase, Device())
    with pytest.raises(NotAllowed):
        sign_in.sign_in(store, clock.now, "CO", passphrase.strip() + "x", Device())
