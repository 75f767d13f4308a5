"""How messages to phones go, for the health page and beside the choice."""

from __future__ import annotations

from fitcounter.desk.common.translation import say, say_n, spoken
from fitcounter.desk.health.line import HealthLine
from fitcounter.desk.messages import push_allowed_services, push_post
from fitcounter.desk.shop import read
from fitcounter.store import push_phones, pushes
from fitcounter.store.database import Store, utc_time

# A phone that is gone is nothing to do anything about.
TO_DO = tuple(fault for fault in push_post.FAULTS if fault != "gone")


def look(store: Store) -> HealthLine:
    """Off, or how many phones get them, when the last one went out, and what is wrong."""
    what = say("Messages to phones")
    if not push_allowed_services.of_shop(store).on:
        return HealthLine(what, say("off: customers keep the page open, or set a kitchen timer"))
    words = say_n("{count} phone gets them", "{count} phones get them", push_phones.count(store))
    last = pushes.last_sent(store)
    if last is not None and last.done_at:
        when = spoken().moment(read(store).local(utc_time(last.done_at)))
        words += ", " + say("last sent {when}", when=when)
    fault = pushes.last_fault(store)
    return HealthLine(what, words, say(push_post.FAULTS[fault]) if fault in TO_DO else "")
