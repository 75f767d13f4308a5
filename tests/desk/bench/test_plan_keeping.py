"""The bench plan is kept as things stand by the write that changed them."""

from __future__ import annotations

from support.bench_cast import pair, tree
from support.cast import Clock

from fitcounter.desk import shop
from fitcounter.desk.bench import plan as bench_plan
from fitcounter.desk.bench import plan_keeping, trees
from fitcounter.store import bench_days
from fitcounter.store.database import Act, Store


def test_a_tree_sent_to_repair_is_out_of_the_kept_plan_at_once(store: Store, clock: Clock) -> None:
    tree_id = tree(store, "4")
    boots = pair(store, Act(clock.now))
    plan_keeping.renew(store, Act(clock.now))
    assert bench_days.everything(store)[boots.left].ready_day is not None

    trees.set_state(store, Act(clock.now), tree_id, "repair")

    kept = bench_days.everything(store)
    assert kept[boots.left].ready_day is None
    assert plan_keeping.is_current(store)
    fresh = bench_plan.make(store, shop.read(store), clock.now)
    assert list(kept.values()) == plan_keeping.rows_of(fresh)
