"""The evening sheet gives its orders for tomorrow as orders."""

from __future__ import annotations

import pytest
from support.bench_cast import Pair, pair, tree
from support.cast import Clock, Counter
from support.item_steps import step
from support.paper_text import text_of

from fitcounter.desk import shop
from fitcounter.desk.bench import put_on_turn_up_take_off
from fitcounter.desk.bench.put_on_turn_up_take_off import PutOn
from fitcounter.desk.common.state_changes import StepInput
from fitcounter.desk.documents import evening_sheet
from fitcounter.desk.shop import Shop
from fitcounter.store.database import Act, Store


@pytest.mark.parametrize("waits_h", [0, 168])
def test_what_is_due_is_said_as_an_order_with_its_tree_and_hour(
    bench: Counter, store: Store, boots: Pair, clock: Clock, waits_h: int
) -> None:
    """On its tree, and off it."""
    step(bench, boots.left, "put-on", tree="4", before="14 3/8", on_tree="14 7/8")
    order = "off tree 4, "
    if waits_h:
        clock.on(hours=waits_h)
        step(bench, boots.left, "take-off")
        order = "Measure Left "
    (said,) = evening_sheet.evening(store, shop.read(store), clock.now).to_do_tomorrow
    assert order in said
    hour, _, girth = said.partition(": wanted ")
    assert hour.endswith(("AM", "PM"))
    assert bool(girth) is (waits_h > 0), "what it is to read, where it is measured"


def test_the_evening_sheet_says_which_wednesday(store: Store, choices: Shop, clock: Clock) -> None:
    """What is due, and how it stood, have their dates; a boot overdue for a week is not next
    week's.
    """
    tree(store, "4")
    made = pair(store, Act(clock.now, 1))
    on = PutOn("4", before="14 3/8", on_tree="15 3/16")
    put_on_turn_up_take_off.put_on(
        store, Act(clock.now, 1), choices, made.left, StepInput(clock.now), on
    )
    said = text_of(evening_sheet.evening_pdf(store, choices, clock.on(days=15)))
    assert "All open tickets on Wednesday, April 1, 10:00 AM" in said
    assert "Take Left 41 off tree 4, Tuesday, March 24, 10:00 AM" in said
