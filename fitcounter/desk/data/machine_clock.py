"""Nothing is deleted for its age on the word of a clock that leapt: a wrong clock once took copies,
photos and readings along. It waits until the owner says that the clock is right.
"""

from __future__ import annotations

from datetime import datetime

from fitcounter.desk.shop import Act, Store, Written
from fitcounter.store import clock_jumps
from fitcounter.store.clock_jumps import Leap
from fitcounter.store.database import utc_text


def leap(store: Store, now: datetime) -> Leap | None:
    """What the owner has to say something about; None where the clock goes as days do."""
    return clock_jumps.first_leap(store, now)


def is_trusted(store: Store, now: datetime) -> bool:
    """May what is old by this clock be deleted? Where it may, what was looked at is kept."""
    if clock_jumps.first_leap(store, now) is not None:
        return False
    with store.write_tx():
        clock_jumps.keep_seen(store, now)
    return True


def confirm(store: Store, act: Act) -> Written:
    """The owner has looked at the clock and says that it is right."""

    def write() -> Written:
        clock_jumps.keep_seen(store, act.at)
        return Written(detail={"clock": utc_text(act.at)})

    return store.once(act, "clock-confirmed", write)
