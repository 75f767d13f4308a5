"""Trees kept for boots that are still at home."""

from __future__ import annotations

from datetime import date

from support.bench_cast import Pair
from support.cast import Clock

from fitcounter.desk.plan import kept_for_boots_at_home, plan_keeping
from fitcounter.desk.shop import Shop
from fitcounter.store import plans
from fitcounter.store.database import Act, Store


def test_trees_are_kept_for_boots_at_home_and_given_back(
    store: Store, choices: Shop, boots: Pair, clock: Clock
) -> None:
    """A slot claims trees from the day the boots come; the plan goes round it; striking it frees
    them all.
    """
    kept_for_boots_at_home.book_slot(
        store, Act(clock.now), choices, "Mrs Hale", "pair", date(2026, 4, 20), 2
    )
    slots = [one for one in plans.bookings(store) if one.kind == "slot"]
    assert len(slots) == 4
    assert min(one.from_day for one in slots) >= "2026-04-20"

    plan_keeping.renew(store, Act(clock.now))
    assert [one for one in plans.bookings(store) if one.kind == "slot"] == slots

    kept_for_boots_at_home.drop_slot(store, Act(clock.now), choices, slots[0].id)
    assert [one for one in plans.bookings(store) if one.kind == "slot"] == []
