"""Tap budgets of the bench: on the tree, turned up, off, measured and decided, caught up.

A tap and a typed character count one each; a scan is given.
"""

from __future__ import annotations

from datetime import timedelta

import pytest
from browser.hand import Hand
from support.bench_cast import Pair, pair, tree, um
from support.cast import Clock
from support.ticket_rows import Job

from fitcounter.desk.common.catch_up import catch_up
from fitcounter.desk.common.state_changes import StepInput
from fitcounter.desk.plan import plan_keeping
from fitcounter.store import items, rounds
from fitcounter.store.database import Act, Store, utc_text, utc_time

pytestmark = pytest.mark.browser


def test_off_the_tree_is_a_scan_and_one_tap(
    hand: Hand, store: Store, job: Job, codes: dict[int, str], clock: Clock
):
    with store.write_tx():
        store.insert(
            "rounds",
            item_id=job.left,
            n=1,
            on_at="2026-03-10T10:00:00Z",
            due_off_at="2026-03-17T10:00:00Z",
        )
    catch_up(store, Act(clock.now, 1), job.left, "on-tree", StepInput(clock.now))
    hand.scan(codes[job.left])
    hand.tap("form[action$='/take-off'] button.next")
    assert items.get(store, job.left).state == "resting"
    assert (hand.scans, hand.spent) == (1, 1)


@pytest.fixture
def boots(store: Store, clock: Clock) -> Pair:
    """A pair whose bench plan has a tree for each boot."""
    tree(store, "4", size="M")
    tree(store, "9", "right", size="M")
    planned = pair(store, Act(clock.now))
    plan_keeping.renew(store, Act(clock.now))
    return planned


def on_its_tree(
    store: Store, item_id: int, at: str = "2026-03-10T10:00:00Z", off: bool = False
) -> None:
    """A round that is on its tree, read at 15 from 14 3/8, or off it since a week."""
    with store.write_tx():
        read = {"before_um": um("14 3/8"), "before_text": "14 3/8", "before_unit": "in"}
        due = utc_text(utc_time(at) + timedelta(days=7))
        until = {"off_at": "2026-03-12T10:00:00Z"} if off else {"due_off_at": due}
        round_id = store.insert(
            "rounds", item_id=item_id, n=1, mark_um=266_700, on_at=at, **read, **until
        )
        turn = {"at": at, "girth_um": um("15"), "girth_text": "15", "unit": "in"}
        store.insert("turns", round_id=round_id, n=1, **turn)
        store.change("items", item_id, state="resting" if off else "on-tree")


def on_a_tree(hand: Hand, store: Store, item_id: int) -> None:
    """The tape reads on the tree what the plan wanted: that is one tap, and Save."""
    hand.tap("label:has-text('as planned')", opens=False)
    hand.tap("form[action$='/put-on'] button.next")
    assert items.get(store, item_id).state == "on-tree"


@pytest.mark.parametrize("read", ["as planned", "14 7/8"])
def test_a_boot_goes_onto_a_tree_with_two_scans_three_taps_and_its_girth_and_the_other_with_three(
    hand: Hand, store: Store, boots: Pair, read: str
):
    """At the stand, all filled in from the plan; then the same on the other boot. A girth that is
    not the planned one is two taps of the keys beside the three.
    """
    hand.open("/bench/stand")
    hand.scan_here("41 L")
    hand.scan_here("4")
    if read == "as planned":
        on_a_tree(hand, store, boots.left)
        assert hand.spent <= 3
    else:
        hand.tap("#put-on-on_tree", opens=False)
        hand.read(read)
        hand.tap("form[action$='/put-on'] [data-go]")
        assert hand.spent <= 3 + 2
        assert items.get(store, boots.left).state == "on-tree"
    assert hand.scans == 2
    hand.spent = 0
    hand.tap(":text('Same on the right')")
    on_a_tree(hand, store, boots.right)
    assert hand.spent <= 3
    assert [
        row["label"]
        for row in store.rows(
            "SELECT t.label FROM rounds r JOIN trees t ON t.id = r.tree_id ORDER BY r.item_id"
        )
    ] == ["4", "9"]


def test_several_boots_come_off_with_one_scan_each(hand: Hand, store: Store, boots: Pair):
    on_its_tree(store, boots.left)
    on_its_tree(store, boots.right)
    hand.open("/bench/off")
    for scanned in ("41 L", "41 R"):
        hand.scan_here(scanned, "[name=scan]")
    assert {items.get(store, one).state for one in (boots.left, boots.right)} == {"resting"}
    assert (hand.scans, hand.spent) == (2, 0)


def test_from_the_scan_to_the_decision_a_boot_that_rested_takes_four_taps(
    hand: Hand, store: Store, boots: Pair
):
    """At the stand the field is touched already: whole number, fraction, Save, then the way on; the
    next boot that is due stands there. So it is on the page the bench's list leads to.
    """
    for boot in (boots.left, boots.right):
        on_its_tree(store, boot, off=True)
    hand.open("/bench/stand")
    hand.scan_here("41 L")
    assert "Left 41" in " ".join(hand.page.locator("h1").inner_text().split())
    hand.read("14 5/8")
    name = hand.page.locator("h1").bounding_box()
    assert name
    assert name["y"] >= 0, "which boot it is stays in view"
    assert hand.spent == 2
    hand.tap("form[action$='/measure-again'] [data-go]")
    assert items.get(store, boots.left).state == "to-decide"
    assert rounds.of_item(store, boots.left)[-1].rested_text == "14 5/8"
    hand.tap("form[action$='/another-round'] button")
    assert items.get(store, boots.left).state == "queued"
    assert (hand.scans, hand.spent) == (1, 4)
    assert hand.page.get_by_text("Next: Right 41").is_visible()
    hand.open("/bench")
    hand.page.locator(f"a[href='/items/{boots.right}']").first.tap()
    hand.page.wait_for_url(f"**/items/{boots.right}")
    hand.spent = 0
    hand.read("14 5/8")
    named = hand.page.locator("summary:has-text('Right 41')")
    assert named.bounding_box()["y"] >= 0, "which boot it is stays in view"  # type: ignore[index]
    hand.tap("form[action$='/measure-again'] [data-go]")
    assert items.get(store, boots.right).state == "to-decide"
    hand.tap("form[action$='/another-round'] button")
    assert items.get(store, boots.right).state == "queued"
    assert hand.spent == 4, "on the boot's own page as at the stand"


def test_a_row_of_boots_is_turned_up_with_three_taps_each_and_one_to_the_next(
    hand: Hand, store: Store, boots: Pair
):
    for boot in (boots.left, boots.right):
        on_its_tree(store, boot, at="2026-03-17T10:00:00Z")
    hand.open("/bench")
    hand.tap("a:has-text('Turn several up')")
    hand.tap("a:has-text('Next: Left 41')")
    hand.spent = 0
    hand.read("15 1/4")
    hand.tap("form[action$='/turn-up'] [data-go]")
    assert hand.spent == 3
    hand.tap("a:has-text('Same on the right')")
    hand.read("15 1/4")
    hand.tap("form[action$='/turn-up'] [data-go]")
    assert hand.spent == 7
    assert [row["n"] for row in store.rows("SELECT max(n) AS n FROM turns GROUP BY round_id")] == [
        2,
        2,
    ]


def test_an_item_is_caught_up_in_three_taps(
    hand: Hand, store: Store, job: Job, codes: dict[int, str]
):
    hand.scan(codes[job.left])
    hand.tap("a:has-text('further along')")
    hand.tap("label:has-text('Ready')", opens=False)
    hand.tap("form[action$='/further'] button[type=submit]")
    assert items.get(store, job.left).state == "shelved"
    assert hand.spent <= 3
