"""How often somebody may try: a few tries free, then a delay that grows and ends by itself."""

from __future__ import annotations

from datetime import timedelta

import pytest
from support.cast import PASSPHRASE, Clock

from fitcounter.desk.shop import Store
from fitcounter.desk.staff import sign_in, throttle
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


RULE = throttle.Rule(2, 10, 60, timedelta(hours=1))


def wait_after(store: Store, clock: Clock, tries: int) -> int:
    """Seconds to wait after so many tries in a row, 0 for none."""
    with store.write_tx():
        for _ in range(tries):
            throttle.count(store, "key", RULE, clock.now)
    try:
        throttle.check(store, "key", RULE, clock.now)
    except TooManyTries as error:
        return error.wait_s
    return 0


@pytest.mark.parametrize(
    ("tries", "wait_s"), [(0, 0), (1, 0), (2, 10), (3, 20), (4, 40), (5, 60), (40, 60)]
)
def test_two_tries_are_free_and_each_one_more_doubles_the_wait_up_to_the_most(
    store: Store, clock: Clock, tries: int, wait_s: int
) -> None:
    assert wait_after(store, clock, tries) == wait_s


def test_a_try_that_has_to_wait_is_not_counted(store: Store, clock: Clock) -> None:
    for _ in range(2):
        throttle.spend(store, "key", RULE, clock.now)
    for _ in range(9):
        with pytest.raises(TooManyTries):
            throttle.spend(store, "key", RULE, clock.now)
    clock.on(seconds=10)
    throttle.spend(store, "key", RULE, clock.now)


def test_a_right_one_clears_the_count_and_one_taken_back_lowers_it(
    store: Store, clock: Clock
) -> None:
    assert wait_after(store, clock, 3) == 20
    with store.write_tx():
        throttle.take_back(store, "key")
        throttle.take_back(store, "key")
    assert wait_after(store, clock, 0) == 0
    assert wait_after(store, clock, 1) == 10
    throttle.forget(store, "key")
    assert wait_after(store, clock, 1) == 0


def test_keys_are_counted_apart(store: Store, clock: Clock) -> None:
    assert wait_after(store, clock, 5) == 60
    throttle.check(store, "other", RULE, clock.now)
