"""Paper says what to do as an order, with its tree, day and girth."""

from __future__ import annotations

import pytest
from support.bench_cast import Pair
from support.cast import Clock, Counter
from support.item_steps import step

from fitcounter.desk import shop
from fitcounter.desk.documents import bench_card as documents_bench
from fitcounter.desk.documents import evening_sheet
from fitcounter.desk.plan import plan_keeping
from fitcounter.store.database import Act, Store


def evening_order(store: Store, clock: Clock) -> str:
    (job,) = evening_sheet.evening(store, shop.read(store), clock.now).jobs
    return job.next_step


def test_the_evening_sheet_says_the_next_step_as_an_order(
    bench: Counter, store: Store, boots: Pair, clock: Clock
) -> None:
    plan_keeping.renew(store, Act(clock.now))
    assert evening_order(store, clock) == "Prepare, Tue, Mar 17"
    for one in (boots.left, boots.right):
        step(bench, one, "prepare", prepared="conditioned")
    plan_keeping.renew(store, Act(clock.now))
    left, right = evening_order(store, clock).split("; ")
    assert left.startswith("Left: Put on tree 4, Tue, Mar 17: open to 15 ")
    assert right.startswith("Right: Put on tree 5, Tue, Mar 17: open to 15 ")
    for one, label in ((boots.left, "4"), (boots.right, "5")):
        step(bench, one, "put-on", tree=label, before="14 3/8", on_tree="15")
    plan_keeping.renew(store, Act(clock.now))
    assert evening_order(store, clock) == (
        "Left: Take off tree 4, Tue, Mar 24; Right: Take off tree 5, Tue, Mar 24"
    )
    clock.on(days=7)
    bench.sign_in()
    step(bench, boots.left, "take-off")
    plan_keeping.renew(store, Act(clock.now))
    assert evening_order(store, clock).startswith("Left: Measure again, Wed, Mar 25: wanted 15 ")
    (due,) = (
        one
        for one in evening_sheet.evening(store, shop.read(store), clock.now).to_do_tomorrow
        if "Measure Left 41" in one
    )
    assert ": wanted 15 " in due
    clock.on(hours=25)
    bench.sign_in()
    step(bench, boots.left, "measure-again", rested="14 11/16")
    assert "Left: Decide: another round, or done" in evening_order(store, clock)
    step(bench, boots.left, "stop", what="zipper torn")
    assert "Left: Tell the customer, then fix or agree" in evening_order(store, clock)


@pytest.mark.parametrize(
    ("columns", "watched"),
    [
        ({}, "leather cracked, seam split, lining torn, wave above the sole, grain turning white,"),
        ({"material": "split-suede", "lining": "none"}, "leather cracked, seam split, wave above"),
        (
            {"closure": "zip"},
            "seam split, zipper off its teeth, or torn out, zipper gaping, lining",
        ),
    ],
)
def test_the_bench_card_says_at_which_faults_of_this_boot_to_stop(
    store: Store, boots: Pair, clock: Clock, columns: dict[str, str], watched: str
) -> None:
    with store.write_tx():
        store.change("items", boots.left, **{"lining": "leather", **columns})
    left = card(store, boots, clock)
    assert watched in left.watch
    assert left.hold == "7 days"
    assert left.now == ""


def test_the_bench_card_says_where_a_boot_is_now_beside_its_next_tree(
    bench: Counter, store: Store, boots: Pair, clock: Clock
) -> None:
    """With setting, girth, day and hour; its plan is a list of orders."""
    step(bench, boots.left, "put-on", tree="4", before="14 3/8", on_tree="15", setting="6")
    plan_keeping.renew(store, Act(clock.now))
    left = card(store, boots, clock)
    assert left.now == (
        "Tree 4 · setting 6 · 15 in on the tree · comes off Tuesday, March 24, 10:00 AM"
    )
    assert [what for _, what in left.plan][:2] == ["Take off tree 4", "Measure again"]


def card(store: Store, boots: Pair, clock: Clock) -> documents_bench.bench_paper.BenchBoot:
    here = shop.read(store)
    made = documents_bench.bench_card(store, here, boots.ticket_id, "", here.today(clock.now))
    return made.boots[0]


def test_the_outside_girth_that_is_wanted_is_that_at_the_mark(
    store: Store, boots: Pair, clock: Clock
) -> None:
    """Where the boot is marked below its tightest place, as wide as is wanted there."""
    assert card(store, boots, clock).by_tape == "wanted 15 7/16 in"
    with store.write_tx():
        store.change("items", boots.left, mark_um=368_300)
    marked = card(store, boots, clock)
    assert marked.method == "read outside at the mark, 14 1/2 up"
    wanted = {row.height: row.wanted for row in marked.heights}["14½ in"]
    assert (wanted, marked.by_tape) == ("13⅞ in", "wanted 14 7/16 in"), "twice pi walls of 2.2 mm"
