"""How often somebody may try: a few tries free, then a growing delay that ends by itself, so that
nobody can be locked out for good.

Counted before the secret is looked at, so that eight tries at once count as eight. OWASP ASVS 5.0
6.1.1 and 6.3.1; NIST SP 800-63B-4 3.2.2 asks for a limit on failures in a row.
"""

from __future__ import annotations

import math
from contextlib import suppress
from dataclasses import dataclass
from datetime import datetime, timedelta

from fitcounter.desk.common.translation import say_n
from fitcounter.errors import TooManyTries, Unavailable
from fitcounter.store import throttle
from fitcounter.store.database import Store, utc_text, utc_time


@dataclass(frozen=True, slots=True)
class Rule:
    """free: tries without delay.

    first_s: the first delay, doubled each time up to most_s. quiet: after it all is forgotten.
    """

    free: int
    first_s: int
    most_s: int
    quiet: timedelta


PASSPHRASE = Rule(5, 1, 300, timedelta(days=1))
PIN = Rule(5, 1, 300, timedelta(days=1))
ADDRESS = Rule(20, 1, 300, timedelta(hours=1))
LINK = Rule(30, 60, 300, timedelta(minutes=1))
LAST_FOUR = Rule(5, 60, 3600, timedelta(days=1))
LINK_WRITES = Rule(20, 300, 3600, timedelta(hours=1))
FEED = Rule(40, 60, 3600, timedelta(minutes=5))
_LONGEST_QUIET = timedelta(days=2)


def check(store: Store, key: str, rule: Rule, now: datetime) -> None:
    """Raises TooManyTries while the delay runs."""
    held = throttle.get(store, key)
    if held is None:
        return
    wait_s = min(
        rule.most_s, math.ceil((utc_time(held.next_at) - now).total_seconds())
    )  # a clock set back does not lock for ever
    if wait_s > 0 and held.failures >= rule.free:
        raise TooManyTries(
            say_n(
                "Too many tries. Wait {count} second, then try again.",
                "Too many tries. Wait {count} seconds, then try again.",
                wait_s,
            ),
            wait_s=wait_s,
        )


def count(store: Store, key: str, rule: Rule, now: datetime) -> int:
    """Counts one try, inside a write. Returns how many in a row it makes."""
    held = throttle.get(store, key)
    forgotten = held is None or utc_time(held.next_at) + rule.quiet < now
    failures = 1 if held is None or forgotten else held.failures + 1
    beyond = failures - rule.free
    delay_s = 0 if beyond < 0 else min(rule.most_s, rule.first_s * 2 ** min(beyond, 20))
    # kept to the second, rounded up, so that a delay is never shorter than said
    next_at = now + timedelta(seconds=delay_s)
    throttle.put(
        store,
        key,
        failures,
        utc_text(next_at + timedelta(microseconds=999_999 if next_at.microsecond else 0)),
    )
    throttle.drop_before(store, utc_text(now - _LONGEST_QUIET))
    return failures


def spend(store: Store, key: str, rule: Rule, now: datetime) -> None:
    """Counts a try before it is looked at. Raises TooManyTries, and then counts nothing."""
    with store.write_tx():
        check(store, key, rule, now)
        count(store, key, rule, now)


def forget(store: Store, key: str) -> None:
    """It was right: the failures before it count no more."""
    with store.write_tx():
        throttle.drop(store, key)


def missed(store: Store, key: str, rule: Rule, now: datetime) -> None:
    """Counts one miss by itself; where it cannot be written it is not counted."""
    with suppress(Unavailable), store.write_tx():
        count(store, key, rule, now)


def take_back(store: Store, key: str) -> None:
    """One try less, inside a write: it was right after all."""
    held = throttle.get(store, key)
    if held is not None:
        throttle.put(store, key, max(0, held.failures - 1), held.next_at)
