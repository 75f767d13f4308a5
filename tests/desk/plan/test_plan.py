"""The stored plan: what it reserves, who it makes late, and when it is reckoned again."""

from __future__ import annotations

from datetime import date

import pytest
from support.bench_cast import Pair, pair, tree
from support.cast import Clock

from fitcounter.desk.bench import put_on_turn_up_take_off, wait_and_go_on
from fitcounter.desk.bench.put_on_turn_up_take_off import PutOn
from fitcounter.desk.common.state_changes import StepInput
from fitcounter.desk.plan import plan as bench_plan
from fitcounter.desk.plan import plan_keeping
from fitcounter.desk.shop import Shop
from fitcounter.errors import Conflict
from fitcounter.store import items, plans
from fitcounter.store.database import Act, Store


def test_a_promised_day_has_reserved_its_trees(
    store: Store, choices: Shop, boots: Pair, clock: Clock
) -> None:
    """Planned: every hold has its claim, of the boot's side, and the pair's day is the later of its
    boots.
    """
    plan = plan_keeping.renew(store, Act(clock.now))

    claims = [one for one in plans.bookings(store) if one.kind == "planned"]
    holds = plan.holds()
    assert len(claims) == len(holds) > 1
    assert {(one.item_id, one.from_day) for one in claims} == {
        (int(hold.job), hold.on.isoformat()) for hold in holds
    }
    assert plan.pairs[0].ready == max(boot.ready for boot in plan.boots)


def test_two_dates_before_she_agrees_and_the_same_once_she_has(
    store: Store, choices: Shop, clock: Clock
) -> None:
    """The promise given at the counter is the day the plan then holds, and nothing was written by
    asking.
    """
    tree(store, "4")
    tree(store, "5", "right")
    new = pair(store, Act(clock.now), state="counter")
    asked = bench_plan.two_dates(store, choices, choices.today(clock.now), new.fit_id)
    assert plans.bookings(store) == []

    with store.write_tx():
        store.db.execute("UPDATE items SET state = 'queued'")
    plan = plan_keeping.renew(store, Act(clock.now))

    assert asked.hope is not None
    assert asked.promise is not None
    assert asked.hope <= asked.promise == plan.pairs[0].ready


def test_a_second_pair_waits_for_the_only_trees_and_is_told_so(
    store: Store, choices: Shop, boots: Pair, clock: Clock
) -> None:
    """With one tree a side, the second pair's promise is later than the first's."""
    first = plan_keeping.renew(store, Act(clock.now)).pairs[0].ready
    second = pair(store, Act(clock.now), 42, "counter", "Tobias Renwick")

    asked = bench_plan.two_dates(store, choices, choices.today(clock.now), second.fit_id)

    assert asked.promise is not None
    assert asked.promise > first


def test_running_rounds_keep_their_tree_in_the_plan(
    store: Store, choices: Shop, boots: Pair, clock: Clock
) -> None:
    """A boot on its tree keeps it until its hold is up; the other pair's first hold there begins
    after that.
    """
    put_on_turn_up_take_off.put_on(
        store,
        Act(clock.now),
        choices,
        boots.left,
        StepInput(clock.now),
        PutOn("4", before="14 3/8", on_tree="15"),
    )
    pair(store, Act(clock.now), 42, name="Tobias Renwick")

    plan = plan_keeping.renew(store, Act(clock.now))

    others = [hold for hold in plan.holds() if hold.tree == "4" and hold.job != str(boots.left)]
    assert others
    assert min(hold.on for hold in others) >= date(2026, 3, 24)


def test_the_same_version_is_not_written_twice(store: Store, boots: Pair, clock: Clock) -> None:
    """Two people decide at once on the same page: the second is told."""
    version = items.get(store, boots.left).version
    put_on_turn_up_take_off.prepare(
        store, Act(clock.now), boots.left, StepInput(clock.now, version=version), "dry", ""
    )
    with pytest.raises(Conflict):
        wait_and_go_on.wait(
            store, Act(clock.now), boots.left, StepInput(clock.now, version=version), "part"
        )
