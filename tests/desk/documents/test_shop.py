"""The evening sheet gives its orders for tomorrow as orders."""

from __future__ import annotations

import pytest
from support.bench_cast import Pair
from support.cast import Clock, Counter
from support.item_steps import step

from fitcounter.desk import shop
from fitcounter.desk.documents import shop as documents_shop
from fitcounter.store.database import Store


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
    (said,) = documents_shop.evening(store, shop.read(store), clock.now).to_do_tomorrow
    assert order in said
    hour, _, girth = said.partition(": wanted ")
    assert hour.endswith(("AM", "PM"))
    assert bool(girth) is (waits_h > 0), "what it is to read, where it is measured"
