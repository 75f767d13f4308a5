"""The bench plan is kept as things stand by the write that changed them."""

from __future__ import annotations

from datetime import timedelta

from support.bench_cast import pair, tree
from support.cast import Clock

from fitcounter.desk import shop
from fitcounter.desk.data import nightly_copy_and_evening_sheet
from fitcounter.desk.plan import plan as bench_plan
from fitcounter.desk.plan import plan_keeping
from fitcounter.desk.trees import trees
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


def test_on_a_new_day_the_plan_is_made_anew_before_anybody_saves_anything(
    store: Store, clock: Clock
) -> None:
    tree(store, "4")
    tree(store, "5", "right")
    boots = pair(store, Act(clock.now))
    plan_keeping.renew(store, Act(clock.now))
    before = bench_days.everything(store)[boots.left].ready_day
    here, tomorrow = shop.read(store), clock.now + timedelta(days=2)
    nightly_copy_and_evening_sheet.keep(store.path.parent, None, tomorrow)
    assert bench_days.day_made(store) == here.today(tomorrow).isoformat()
    after = bench_days.everything(store)[boots.left].ready_day
    assert before is not None
    assert after is not None
    assert after > before, "nothing went on a tree yesterday"
