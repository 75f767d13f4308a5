"""How often somebody may try: a few tries free, then a delay that grows and ends by itself."""

from __future__ import annotations

import pytest
from support.cast import PASSPHRASE, Clock

from fitcounter.desk.shop import Store
from fitcounter.desk.staff import sign_in
from fitcounter.desk.staff.sign_in import Device
from fitcounter.errors import NotAllowed, TooManyTries


def test_wrong_tries_outlive_a_restart(store: Store, clock: Clock) -> None:
    """The count is in the file."""
    for number in range(5):
        with pytest.raises(NotAllowed):
            sign_in.sign_in(
                store, clock.now, "CO", "some wrong words here", Device(f"192.0.2.{number}")
            )
    again = Store(store.path)
    try:
        with pytest.raises(TooManyTries):
            sign_in.sign_in(again, clock.now, "CO", PASSPHRASE, Device())
    finally:
        again.close()


def test_a_clock_set_back_does_not_lock_the_door_for_longer(store: Store, clock: Clock) -> None:
    """A delay is never more than five minutes, whatever the clock says."""
    for number in range(7):
        with pytest.raises(NotAllowed):
            sign_in.sign_in(
                store,
                clock.on(seconds=10),
                "CO",
                "some wrong words here",
                Device(f"192.0.2.{number}"),
            )
    clock.on(days=-30)

    with pytest.raises(TooManyTries) as held:
        sign_in.sign_in(store, clock.now, "CO", PASSPHRASE, Device())
    assert held.value.wait_s <= 300


def test_a_day_of_quiet_forgets_the_failures(store: Store, clock: Clock) -> None:
    """After it five tries are free again."""
    for number in range(5):
        with pytest.raises(NotAllowed):
            sign_in.sign_in(
                store, clock.now, "CO", "some wrong words here", Device(f"192.0.2.{number}")
            )
    clock.on(days=1, seconds=5)
    with pytest.raises(NotAllowed) as refused:
        sign_in.sign_in(store, clock.now, "CO", "some wrong words here", Device())
    assert not isinstance(refused.value, TooManyTries)
    sign_in.sign_in(store, clock.now, "CO", PASSPHRASE, Device())


def test_eight_tries_at_once_count_as_eight(store: Store, clock: Clock) -> None:
    """A try is counted before it is looked at, so that threads cannot outrun the count."""
    from concurrent.futures import ThreadPoolExecutor

    def one(number: int) -> str:
        mine = Store(store.path)
        try:
            sign_in.sign_in(
                mine, clock.now, "CO", f"some wrong words {number}", Device(f"192.0.2.{number}")
            )
        except TooManyTries:
            return "waits"
        except NotAllowed:
            return "refused"
        finally:
            mine.close()
        return "in"

    with ThreadPoolExecutor(8) as pool:
        answers = sorted(pool.map(one, range(8)))
    assert answers == ["refused"] * 5 + ["waits"] * 3
