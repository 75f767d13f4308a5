"""A ticket closes on the day after the last of its guarantee."""

from __future__ import annotations

from support.cast import Clock

from fitcounter.desk import shop
from fitcounter.desk.aftercare.guarantee_term import close_expired
from fitcounter.store import items, tickets
from fitcounter.store.database import Act, Store


def test_the_end_of_the_guarantee_closes_the_ticket(store: Store, home, clock: Clock):
    assert close_expired(store, Act(clock.now), shop.read(store)) == 0
    clock.on(days=366)
    assert close_expired(store, Act(clock.now), shop.read(store)) == 1
    assert tickets.get(store, home.ticket_id).state == "closed"
    assert {one.state for one in items.of_ticket(store, home.ticket_id)} == {"closed"}
