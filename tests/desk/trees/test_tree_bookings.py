"""A tree that is kept for boots still at home, and a boot that is put on it all the same."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, timedelta

import pytest
from support.bench_cast import Pair, pair, tree
from support.cast import Clock

from fitcounter.desk import shop
from fitcounter.desk.bench import put_on_turn_up_take_off
from fitcounter.desk.bench.put_on_turn_up_take_off import PutOn
from fitcounter.desk.common.state_changes import StepInput
from fitcounter.desk.plan import kept_for_boots_at_home, plan_changes
from fitcounter.desk.plan import plan as bench_plan
from fitcounter.errors import BadInput
from fitcounter.store import items, plans
from fitcounter.store.database import Act, Store

ON = PutOn("4", before="14 3/8", on_tree="14 7/8")


def kept_from(store: Store, clock: Clock, first: date) -> Pair:
    """Tree 4 is kept for a boot that comes on that day; the pair that waits for the bench was taken
    in afterwards.
    """
    tree(store, "4")
    kept_for_boots_at_home.book_slot(
        store, Act(clock.now), shop.read(store), "Ada's", "left", first, 1
    )
    return pair(store, Act(clock.now))


def claims(store: Store) -> list[tuple[str, str, str]]:
    return [
        (one.kind, one.from_day, one.to_day)
        for one in plans.bookings(store)
        if one.tree_id == 1 and one.kind != "planned"
    ]


def test_a_boot_goes_on_after_a_question_and_its_claim_ends_where_the_kept_days_begin(
    store: Store, clock: Clock
):
    """Asked once, in words that are true; turned up and left on it is still saved, and the kept
    days stay kept.
    """
    choices, act = shop.read(store), Act(clock.now)
    boots = kept_from(store, clock, date(2026, 3, 20))
    with pytest.raises(BadInput, match=r"from Sat, Mar 21 for Ada's.*off by then") as asked:
        put_on_turn_up_take_off.put_on(store, act, choices, boots.left, StepInput(clock.now), ON)
    assert asked.value.field == "take_tree"
    on = replace(ON, take_tree=True)
    put_on_turn_up_take_off.put_on(store, act, choices, boots.left, StepInput(clock.now), on)
    kept = ("slot", "2026-03-21", "2026-03-28")
    assert claims(store) == [("running", "2026-03-17", "2026-03-21"), kept]
    clock.on(days=1)
    put_on_turn_up_take_off.turn_up(
        store, Act(clock.now), choices, boots.left, StepInput(clock.now), "15", ""
    )
    plan_changes.leave_on(
        store,
        Act(clock.now),
        choices,
        boots.left,
        StepInput(clock.now),
        clock.now.date() + timedelta(days=9),
        True,
    )
    assert claims(store) == [("running", "2026-03-17", "2026-03-21"), kept]
    assert bench_plan.make(store, choices, clock.now).plan.boot(str(boots.left)) is not None


def test_days_that_are_kept_by_now_are_given_back_first(store: Store, clock: Clock):
    boots = kept_from(store, clock, date(2026, 3, 17))
    clock.on(days=1)
    on = replace(ON, take_tree=True)
    with pytest.raises(BadInput, match="Release that tree on the bench plan first") as refused:
        put_on_turn_up_take_off.put_on(
            store, Act(clock.now), shop.read(store), boots.left, StepInput(clock.now), on
        )
    assert refused.value.field == "tree"
    assert items.get(store, boots.left).state == "queued"
