"""Passphrases and PINs: what is taken, and how it is kept."""

from __future__ import annotations

import pytest
from support.cast import PASSPHRASE, Clock

from fitcounter.desk.shop import Act, Store
from fitcounter.desk.staff import new_passphrase_or_pin, passphrase_and_pin, sign_in
from fitcounter.errors import BadInput, TooManyTries


@pytest.mark.parametrize(
    "passphrase",
    [
        "fourteen chars",
        "passwordpassword",
        "correct horse battery staple",
        "qwertyuiopasdfgh",
        "123456789012345678",
        "aaaaaaaaaaaaaaaaaaaa",
        "Quillmarsh Leather Bench",
        "quillmarshquillmarsh",
        "Cora Cora Cora Cora",
        "P@ssw0rdP@ssw0rd",
        "iloveyouiloveyou1",
        "abcdefghijklmnopqrstuvwxyz",
        "boots boots boots boots",
        "letmeinletmein123456",
        "x" * 201,
    ],
)
def test_a_passphrase_that_many_would_think_of_is_refused(
    store: Store, clock: Clock, passphrase: str
) -> None:
    """Too short, one of the usual, a row of keys, the shop's name or the person's, again and again;
    or far too long.
    """
    with pytest.raises(BadInput) as refused:
        new_passphrase_or_pin.set_secrets(store, Act(clock.now, 3), 1, passphrase=passphrase)
    assert refused.value.field == "passphrase"


@pytest.mark.parametrize(
    "passphrase",
    [
        "four plain oak words",
        "chestnut counter morning",
        "quiet bench by the door",
        "ünïcödé wörds äre fine",
        "3 blind mice, 7 tall ships",
    ],
)
def test_a_passphrase_of_plain_words_is_taken(store: Store, clock: Clock, passphrase: str) -> None:
    """No capitals, figures or signs are asked for."""
    assert (
        new_passphrase_or_pin.set_secrets(store, Act(clock.now, 3), 1, passphrase=passphrase).row_id
        == 1
    )


@pytest.mark.parametrize(
    "pin",
    [
        "12345",
        "1234567",
        "123456",
        "654321",
        "000000",
        "121212",
        "123123",
        "112112",
        "٣٣٤٥٦٧",
        "12345a",
        "",
    ],
)
def test_a_pin_that_anybody_tries_first_is_refused(store: Store, clock: Clock, pin: str) -> None:
    """Not six figures, a row, a repeat."""
    from fitcounter.desk.staff.passphrase_and_pin import good_pin

    with pytest.raises(BadInput):
        good_pin(pin)
    assert good_pin("740193") == "740193"


def test_no_more_than_two_hash_at_once_and_who_waits_in_vain_has_not_tried(
    store: Store, clock: Clock
) -> None:
    for _ in range(passphrase_and_pin.AT_ONCE):
        assert passphrase_and_pin._TURNS.acquire(timeout=1)
    try:
        with pytest.raises(TooManyTries, match="Many people"):
            sign_in.sign_in(store, clock.now, "CO", PASSPHRASE, sign_in.Device("192.0.2.1"))
    finally:
        passphrase_and_pin._TURNS.release(passphrase_and_pin.AT_ONCE)
    assert store.value("SELECT coalesce(sum(failures), 0) FROM throttle") == 0
    assert sign_in.sign_in(store, clock.now, "CO", PASSPHRASE, sign_in.Device("192.0.2.1"))


def test_a_secret_matches_its_own_hash_and_no_other_and_two_hashes_differ() -> None:
    first, second = (
        passphrase_and_pin.hash_secret("four plain oak words"),
        passphrase_and_pin.hash_secret("740193"),
    )
    assert passphrase_and_pin.matches("four plain oak words", first)
    assert not passphrase_and_pin.matches("four plain oak words", second)
    assert not passphrase_and_pin.matches("four plain oak word", first)
    assert passphrase_and_pin.hash_secret("740193") != second


@pytest.mark.parametrize("held", ["", "rubbish", "scrypt:2:8:1$salt$", "md5$salt$abc"])
def test_where_there_is_no_hash_nothing_matches(held: str) -> None:
    assert not passphrase_and_pin.matches("", held)
    assert not passphrase_and_pin.matches("four plain oak words", held)


def test_a_token_is_kept_as_its_sha_256() -> None:
    """Of FIPS 180-4: the hash of "abc"."""
    assert passphrase_and_pin.token_hash("abc").startswith(
        "ba7816bf8f01cfea414140de5dae2223b00361a3"
    )
