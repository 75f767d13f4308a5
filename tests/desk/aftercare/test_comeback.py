"""A boot that comes back is compared with pickup, queued, and covered until the last day."""

from __future__ import annotations

import pytest
from support.cast import Clock

from fitcounter.desk import shop
from fitcounter.desk.aftercare.comeback import ComebackInput, come_back
from fitcounter.desk.assessment.standing import standing
from fitcounter.desk.bench import item_page, put_on_turn_up_take_off
from fitcounter.desk.bench.put_on_hints import put_on_hints
from fitcounter.desk.common.state_changes import StepInput
from fitcounter.errors import BadReading
from fitcounter.store import items, tickets
from fitcounter.store.database import Act, Store


def came(act: Act, boot: str, leg: str = "") -> ComebackInput:
    return ComebackInput(act.at, "tight again", boot, leg, "in")


def test_a_comeback_says_that_the_boot_went_back_and_is_covered(store: Store, home, clock: Clock):
    clock.on(days=60)
    act = Act(clock.now)
    said = come_back(store, act, home.left, came(act, "14 1/4", "14 3/8"), shop.read(store))
    assert said.words.startswith("The boot shrank back")
    assert said.words.endswith(
        "The boot is ¼ in smaller than at pickup. The leg is the same as when first measured."
    )
    row = store.rows("SELECT * FROM comebacks")[0]
    assert (row["boot_change_um"], row["leg_change_um"], row["under_guarantee"], row["answer"]) == (
        -6350,
        0,
        1,
        "boot back",
    )
    assert items.get(store, home.left).state == "queued"
    assert tickets.get(store, home.ticket_id).state == "open"
    assert items.get(store, home.right).state == "out"


def test_a_comeback_says_that_the_leg_is_fuller(store: Store, home, act: Act):
    said = come_back(store, act, home.left, came(act, "14 1/2", "14 3/4"), shop.read(store))
    assert said.words.startswith("The leg is bigger")
    assert said.words.endswith(
        "The boot is the same as at pickup. The leg is ⅜ in bigger than when first measured."
    )


def test_a_comeback_without_a_leg_says_that_the_leg_was_not_compared(store: Store, home, act: Act):
    said = come_back(store, act, home.left, came(act, "14 1/4"), shop.read(store))
    assert "The leg was not compared. The boot is ¼ in smaller than at pickup." in said.words


def test_a_comeback_after_the_last_day_is_not_covered(store: Store, home, clock: Clock):
    clock.on(days=366)
    act = Act(clock.now)
    come_back(store, act, home.left, came(act, "14 1/4"), shop.read(store))
    assert store.value("SELECT under_guarantee FROM comebacks") == 0


def test_a_comeback_with_a_slip_stores_nothing(store: Store, home, act: Act):
    with pytest.raises(BadReading):
        come_back(store, act, home.left, came(act, "145/8"), shop.read(store))
    assert store.value("SELECT count(*) FROM comebacks") == 0
    assert items.get(store, home.left).state == "out"


def test_the_bench_reads_what_a_boot_did_at_home_until_it_is_on_a_tree_again(
    store: Store, home, clock: Clock
):
    """The history keeps it; the page says it too, because the readings and the drawing there are
    from before.
    """
    act = Act(clock.on(days=3))
    come_back(store, act, home.left, came(act, "14 1/4"), shop.read(store))
    seen = item_page.look(store, shop.read(store), home.left)
    assert seen.back == "the boot is ¼ in smaller than at pickup; under the guarantee"
    assert (seen.history[0].head, seen.history[0].text) == ("Back for another look", seen.back)
    found, here = standing(store, items.get(store, home.left)), shop.read(store)
    hints = put_on_hints(store, here, items.get(store, home.left), seen.rounds, found)
    assert hints.before == "14 1/4", "as read today, and not as it was at pickup"
    with store.write_tx():
        store.insert("trees", label="4", side="left", size="M")
    put_on_turn_up_take_off.put_on(
        store,
        act,
        shop.read(store),
        home.left,
        StepInput(clock.now),
        put_on_turn_up_take_off.PutOn("4", before="14 1/4", on_tree="14 1/2"),
    )
    assert item_page.look(store, shop.read(store), home.left).back == ""
