"""Tap budgets of the bench, the front desk and pickup.

A tap and a typed character count one each; a scan is given.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from datetime import timedelta
from pathlib import Path

import pytest
from browser.hand import Hand
from playwright.sync_api import Page
from support.bench_cast import Pair, pair, tree, um
from support.cast import Clock
from support.served_shop import open_shop
from support.ticket_rows import Job, make_job

from fitcounter.desk.common.catch_up import catch_up
from fitcounter.desk.common.state_changes import StepInput
from fitcounter.desk.plan import plan_keeping
from fitcounter.store import bills, items, rounds, tags, tickets
from fitcounter.store.database import Act, Store, utc_text, utc_time

pytestmark = pytest.mark.browser


@pytest.fixture
def job(store: Store, clock: Clock) -> Job:
    return make_job(store, Act(clock.now, 1))


@pytest.fixture
def codes(store: Store, job: Job, clock: Clock) -> dict[int, str]:
    """A tag on everything."""
    with store.write_tx():
        made = {}
        for item_id, side in ((job.left, "left"), (job.right, "right"), (job.bag, None)):
            made[item_id] = tags.get(store, tags.make(store, Act(clock.now), 1, side, item_id)).code
    return made


@pytest.fixture
def hand(
    store: Store,
    codes: dict[int, str],
    tmp_path: Path,
    clock: Clock,
    open_page: Callable[..., Page],
) -> Iterator[Hand]:
    with open_shop(tmp_path, clock) as address:
        yield Hand.signed_in(open_page(address + "/sign-in"), address)


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


def test_is_it_ready_is_answered_on_today_within_four_keys(hand: Hand, store: Store, job: Job):
    hand.open("/")
    before = hand.page.url
    hand.type("#q", "1")
    hand.page.wait_for_function(
        "document.querySelector('[data-answer]').textContent.includes('waiting for the bench')"
    )
    assert hand.page.url == before
    assert hand.spent <= 4


def test_pair_and_bag_go_over_the_counter_with_four_scans_and_two_taps(
    hand: Hand, store: Store, job: Job, codes: dict[int, str], clock: Clock
):
    for item_id in (job.left, job.right, job.bag):
        catch_up(
            store,
            Act(clock.now, 1),
            item_id,
            "shelved",
            StepInput(clock.now, columns={"shelf": "C2"}),
        )
    hand.scans += 1  # her claim check leads to her number
    hand.open(f"/pickup/{job.ticket_id}")
    hand.tap("button:has-text('Both fit')")
    for code in codes.values():
        hand.scan_here(code, button="[name=strike]")
    hand.tap("form[data-pickup] button.next")
    assert tickets.get(store, job.ticket_id).state == "out"
    assert (hand.scans, hand.spent) == (4, 2)


def test_discount_cancelling_and_half_a_pickup_stay_within_their_taps(
    hand: Hand, store: Store, job: Job, clock: Clock
):
    """A discount in six, one boot to the spouse without cash and with a receipt in ten beside the
    name, the rest cancelled in six. A reason is free, like a name. The row is found by letters.
    """
    act = Act(clock.now, 1)
    catch_up(store, act, job.left, "shelved", StepInput(clock.now, columns={"shelf": "C2"}))
    hand.open("/")
    hand.type_free("#q", "lind mari")
    hand.page.wait_for_selector("[aria-labelledby='l-found'] a:has-text('Marisol')")
    page = f"/tickets/{job.ticket_id}"
    hand.open(page)
    hand.spent = 0
    hand.tap(f"a[href='{page}/price']")
    hand.type("[name=discount]", "5%")
    hand.type_free("[name=discount_why]", "a regular")
    hand.tap("button.next")
    assert hand.spent <= 6
    assert bills.lines(store, job.ticket_id)[-1].what == "Discount, 5%"

    hand.spent = 0
    hand.tap("a:has-text('Hand over what is ready')")
    hand.tap(f"label[for=item-{job.left}]", opens=False)
    hand.tap("label[for=part]", opens=False)
    hand.tap("details.aside > summary", opens=False)
    hand.page.fill("[name=collected_by]", "")
    hand.type_free("[name=collected_by]", "Tobias")
    hand.tap("button[name=method]:has-text('Pays later')")
    hand.open(page)
    assert hand.page.locator("a[href*='receipt.pdf?handover=']:has-text('Tobias')").count() == 1
    assert hand.spent + 1 <= 10
    assert items.get(store, job.left).state == "out"

    hand.spent = 0
    hand.tap(f"a[href='{page}/cancel']")
    hand.type("[name=charge]", "40")
    hand.tap("button.next")
    assert hand.spent <= 6
    assert items.get(store, job.right).state == "declined"


def test_what_the_till_is_short_stands_there_while_it_is_counted(hand: Hand):
    hand.open("/till")
    off = hand.page.locator("#off")
    for counted, says in (("", ""), ("28", "$2.00 short."), ("30.5", "$0.50 over."), ("x", "")):
        hand.page.fill("[name=counted_cash]", "5,00")
        hand.page.fill("[name=change]", "$5")
        hand.page.fill("[name=counted_unsaid]", counted)
        assert off.text_content() == says
    hand.page.fill("[name=counted_unsaid]", "30")
    assert off.text_content() == "Right to the cent."
