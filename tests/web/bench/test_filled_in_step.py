"""The form of a step as it is first shown: the keys begin near what is known."""

from __future__ import annotations

import pytest
from support.bench_cast import Pair, um
from support.cast import Clock, Counter
from support.item_steps import state, step
from support.tape_keys import has_keys, likely_mm, said

from fitcounter.store import rounds
from fitcounter.store.database import Store


@pytest.mark.parametrize("address", ["/items/{}?do=put-on", "/bench/stand?boot={}&do=put-on"])
def test_putting_on_has_the_keys_and_begins_near_the_last_girth(
    bench: Counter, boots: Pair, address: str
) -> None:
    """Brought in at 14 3/8 in, which is 365.125 mm."""
    form = has_keys(bench.get(address.format(boots.left)).text, "before", "on_tree", "mark")
    assert [likely_mm(form, name) for name in ("before", "on_tree")] == ["365.125", "365.125"]
    assert 'data-what="height"' in form, "the mark is no girth"


def test_turning_up_and_measuring_again_say_what_was_read(
    bench: Counter, store: Store, boots: Pair, clock: Clock
) -> None:
    """On the tree: the last reading; rested: what it was before and on the tree; next round: the
    rested reading that counts where nothing is typed.
    """
    left = boots.left
    assert step(bench, left, "put-on", tree="4", before="14 3/8", on_tree="14 7/8") == 303
    form = has_keys(bench.get(f"/items/{left}?do=turn-up").text, "girth")
    assert "it read 14⅞ in; at the same mark, or type only the setting" in said(form)
    assert float(likely_mm(form, "girth")) == um("14 7/8") / 1000
    assert step(bench, left, "turn-up", girth="15") == 303
    clock.on(days=7)
    assert step(bench, left, "take-off") == 303
    clock.on(hours=25)
    form = has_keys(bench.get(f"/items/{left}?do=measure-again").text, "rested")
    assert "14⅜ in before, 15 in on the tree: it should read between" in said(form)
    assert float(likely_mm(form, "rested")) == um("14 3/8") / 1000
    assert step(bench, left, "measure-again", rested="14 5/8") == 303
    assert state(store, left) == "to-decide"
    assert rounds.of_item(store, left)[-1].rested_text == "14 5/8"
    assert step(bench, left, "another-round") == 303
    form = has_keys(bench.get(f"/items/{left}?do=put-on").text, "before")
    assert "left empty, the last rested reading, 14⅝ in, counts" in said(form)
    assert float(likely_mm(form, "before")) == um("14 5/8") / 1000


def test_a_round_that_was_never_read_on_the_tree_names_no_range(
    bench: Counter, boots: Pair, clock: Clock
) -> None:
    assert step(bench, boots.left, "put-on", tree="4", before="14 3/8", read_as="later") == 303
    form = has_keys(bench.get(f"/items/{boots.left}?do=turn-up").text, "girth")
    assert "at the same mark; or type only the setting" in said(form)
    clock.on(days=7)
    assert step(bench, boots.left, "take-off") == 303
    clock.on(hours=25)
    form = has_keys(bench.get(f"/items/{boots.left}?do=measure-again").text, "rested")
    assert "it should read between" not in said(form)
    assert "Inches, like 14⅜" in said(form).replace("14 3/8", "14⅜")
