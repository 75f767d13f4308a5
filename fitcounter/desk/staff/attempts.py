"""The counts that a try to come in adds to, written before the secret is looked at."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from contextlib import contextmanager
from datetime import datetime

from fitcounter.desk.staff import throttle as staff_throttle
from fitcounter.desk.staff.passphrase_and_pin import token_hash
from fitcounter.errors import TooManyTries
from fitcounter.store.database import Act, Store, Written
from fitcounter.store.records import Person


def counted_under(initials: str, address: str, known: str) -> dict[str, staff_throttle.Rule]:
    """The counts that a try adds to, the person's own first.

    A device that this person signed in on before has a count of its own, so that nobody's wrong
    tries elsewhere keep them out (OWASP, Slow Down Online Guessing Attacks with Device Cookies).
    """
    name = token_hash(initials)
    if known:
        return {f"known:{token_hash(known)}:{name}": staff_throttle.PASSPHRASE}
    return {
        f"name:{name}": staff_throttle.PASSPHRASE,
        f"from:{address}": staff_throttle.ADDRESS,
    }


def reserve(store: Store, now: datetime, keys: dict[str, staff_throttle.Rule]) -> None:
    """Counts the try before it is looked at, or raises TooManyTries and counts nothing."""
    with store.write_tx():
        for key, rule in keys.items():
            staff_throttle.check(store, key, rule, now)
        for key, rule in keys.items():
            staff_throttle.count(store, key, rule, now)


@contextmanager
def no_try_where_busy(store: Store, keys: Iterable[str]) -> Iterator[None]:
    """Where there was no turn for the hash, nothing was tried."""
    try:
        yield
    except TooManyTries:
        with store.write_tx():
            for key in keys:
                staff_throttle.take_back(store, key)
        raise


def refused(store: Store, now: datetime, person: Person | None, phone_id: int | None) -> None:
    staff_id = person.id if person else None
    store.once(
        Act(now, staff_id, phone_id), "sign-in-refused", lambda: Written(detail={"staff": staff_id})
    )
