"""What is to be done today: a pair in one line, in the order of work, with its trees and hours."""

from __future__ import annotations

from datetime import timedelta

import pytest
from support.bench_cast import pair, tree
from support.cast import Clock

from fitcounter.desk import shop
from fitcounter.desk.bench import plan_page, put_on_turn_up_take_off
from fitcounter.desk.common.state_changes import StepInput
from fitcounter.desk.plan import plan_keeping
from fitcounter.store import items
from fitcounter.store.database import Act, Store


@pytest.fixture
def bench(store: Store, clock: Clock) -> Store:
    """A pair due off its trees today at ten, and one that is to go on them then."""
    tree(store, "4")
    tree(store, "5", "right")
    began = clock.now - timedelta(hours=168)
    first, _ = pair(store, Act(began)), pair(store, Act(began), 42, name="Ada Quill")
    for boot, label in ((first.left, "4"), (first.right, "5")):
        said = StepInput(began, version=items.get(store, boot).version)
        typed = put_on_turn_up_take_off.PutOn(
            label, before="14 3/8", on_tree="14 5/8", mark="10 1/2", take_tree=True
        )
        put_on_turn_up_take_off.put_on(store, Act(began, 1), shop.read(store), boot, said, typed)
    plan_keeping.renew(store, Act(clock.now))
    return store


def today(store: Store, clock: Clock) -> list[str]:
    page = plan_page.plan_page(store, shop.read(store), clock.now)
    return [
        " ".join((f"{line.at:%H:%M}" if line.at else "-", str(line.rows[0].number), line.words))
        for line in page.today
    ]


def test_both_boots_of_a_pair_are_one_line_with_their_trees(bench: Store, clock: Clock):
    assert today(bench, clock) == [
        "- 42 Prepare: Left and Right",
        "10:00 41 Take off: Left from tree 4 and Right from tree 5",
    ]


def test_what_goes_on_a_tree_that_is_taken_waits_for_its_hour(bench: Store, clock: Clock):
    with bench.write_tx():
        bench.db.execute("UPDATE items SET state = 'prepared' WHERE ticket_id = 2")
    plan_keeping.renew(bench, Act(clock.now))
    assert today(bench, clock) == [
        "10:00 41 Take off: Left from tree 4 and Right from tree 5",
        "10:00 42 Put on: Left on tree 4 and Right on tree 5",
    ]
