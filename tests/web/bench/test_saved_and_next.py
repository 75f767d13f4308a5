"""After a step the page says what is now true, what comes next, and offers Undo beside it."""

from __future__ import annotations

from support.bench_cast import Pair
from support.cast import Clock, Counter
from support.item_steps import state, step

from fitcounter.store.database import Store


def test_after_putting_on_the_page_says_tree_and_day_and_offers_undo(
    bench: Counter, boots: Pair
) -> None:
    step(bench, boots.left, "put-on", tree="4", before="14 3/8", on_tree="14 7/8")
    for page in (
        bench.get(f"/items/{boots.left}?did=put-on").text,
        bench.get(f"/bench/stand?did={boots.left}&step=put-on").text,
    ):
        assert "Left 41 is on tree 4 until Tue, Mar 24." in page
        assert page.count("Undo “On tree 4”") == 1


def test_an_early_reading_is_said_not_to_count(
    bench: Counter, store: Store, boots: Pair, clock: Clock
) -> None:
    step(bench, boots.left, "put-on", tree="4", before="14 3/8", on_tree="14 7/8")
    clock.on(days=7)
    step(bench, boots.left, "take-off")
    page = bench.get(f"/items/{boots.left}?did=take-off").text
    assert "Left 41 is resting until Wednesday, March 25, 10:00 AM. Next: measure again." in page
    clock.on(hours=2)
    step(bench, boots.left, "measure-again", rested="14 3/4")
    page = bench.get(f"/items/{boots.left}?did=measure-again").text
    assert "Left 41 was measured too early: that does not count." in page
    assert state(store, boots.left) == "resting"


def test_what_ends_while_the_shop_is_closed_comes_off_and_is_measured_at_the_next_opening(
    bench: Counter, store: Store, boots: Pair, clock: Clock
) -> None:
    """Put on at 8 PM for a week; the day it ends is a holiday, and so is the day of the rest."""
    closed = {"from_day": "2026-03-24", "to_day": "2026-03-25", "kind": "closed"}
    with store.write_tx():
        store.insert("closures", **closed)
    clock.on(hours=10)
    bench.sign_in()
    step(bench, boots.left, "put-on", tree="4", before="14 3/8", on_tree="14 7/8")
    page = bench.get(f"/items/{boots.left}?did=put-on").text
    assert "Left 41 is on tree 4 until Thu, Mar 26." in page
    assert "Comes off Thursday, March 26, 9:00 AM." in page
    assert "until Thu, Mar 26" in bench.get("/bench").text
    clock.on(days=6)
    bench.sign_in()
    step(bench, boots.left, "take-off")
    page = bench.get(f"/items/{boots.left}").text
    assert "Measure from Thursday, March 26, 9:00 AM on." in page


def test_an_address_with_a_step_that_is_none_says_nothing(bench: Counter, boots: Pair) -> None:
    assert 'class="flash"' not in bench.get(f"/items/{boots.left}?did=nonsense").text
