"""Tap budgets of the counter, with a customer waiting: a pair taken in, and a pair measured at
three heights.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from pathlib import Path

import pytest
from browser.hand import Hand
from playwright.sync_api import Page
from support.cast import Clock
from support.measured_pair import BOOT, LEG, cells, sheet_of
from support.measured_pair import take_in as pair_taken_in
from support.served_shop import open_shop

from fitcounter.desk import shop
from fitcounter.desk.measuring import save as measuring_save
from fitcounter.desk.measuring.how_it_was_read import Terms
from fitcounter.desk.quote import price_list
from fitcounter.desk.quote.price_list import EntryInput
from fitcounter.store import fits, items, readings, tags, tickets
from fitcounter.store.database import Act, Store

pytestmark = pytest.mark.browser


@pytest.fixture
def hand(
    store: Store, tmp_path: Path, clock: Clock, open_page: Callable[..., Page]
) -> Iterator[Hand]:
    """The counter's phone in a shop with two trees."""
    shop.choose(store, Act(clock.now), limits="usual", hold_h=48)
    with store.write_tx():
        for label, side in (("4", "left"), ("9", "right")):
            store.insert("trees", label=label, side=side, size="M")
    with open_shop(tmp_path, clock) as address:
        yield Hand.signed_in(open_page("about:blank"), address, "CO")


@pytest.fixture
def ready_tags(store: Store, clock: Clock) -> dict[str, str]:
    """Two tags of one number that hang ready at the counter."""
    with store.write_tx():
        return {
            side: tags.get(store, tags.make(store, Act(clock.now), 57, side)).code
            for side in ("left", "right")
        }


def take_in(hand: Hand) -> None:
    """From Today to the measuring sheet, with one finding on the left boot."""
    hand.tap("nav a:has-text('New job')")
    hand.type_free("#phone", "5550100142")
    hand.type_free("#name", "Marisol")
    hand.tap("summary:has-text('Damage on the left boot')", opens=False)
    hand.tap("label:has-text('zipper worn')", opens=False)
    hand.tap("button:has-text('Open the ticket')")


def test_a_regular_pair_is_taken_in_within_fifty_five_taps(
    hand: Hand, store: Store, ready_tags: dict[str, str]
) -> None:
    """The gap measured, one finding, priced, signed with a finger, two tags tied on; beside her
    name and number. Each boot is read once, where the gap is widest: the keys go there by
    themselves, and the answer waits for no second reading.
    """
    hand.open("/")
    take_in(hand)
    for gap in ("3/8", "5/8", "7/8", "3/8", "1/2", "7/8"):
        hand.read(gap)
    marks = hand.page.locator("[data-sheet=boot] .how").all_inner_texts()
    assert sorted(marks) == ["not measured", *["not needed"] * 4, "now"]
    for _ in range(2):
        hand.read("14 1/4")
    assert "8 of 8 measured" in hand.page.locator("[data-go]").inner_text()
    hand.tap("[data-go]")
    assert hand.page.locator(".asks:has-text('Left ⅞ in short at 14½ in')").is_visible()
    hand.tap("a:has-text('Price and agreement')")
    for boot in items.of_ticket(store, 1):
        hand.scan_into(ready_tags[str(boot.side)], f"#tag_{boot.id}")
    hand.sign("canvas.sign")
    hand.tap("label[for='agreed']", opens=False)
    hand.tap("button:has-text('Save the agreement')")
    assert [
        (one.state, tags.of_item(store, one.id).number) for one in items.of_ticket(store, 1)
    ] == [("queued", 57)] * 2  # type: ignore[union-attr]
    assert hand.spent <= 55


def test_three_heights_with_two_slips_corrected_take_forty_six_taps(
    hand: Hand, store: Store
) -> None:
    """One slip is asked about at once, and read again; the other is seen by oneself two readings
    later, touched and read anew.
    """
    hand.open("/")
    take_in(hand)
    hand.open("/fits/1/measure?how=leg")
    hand.spent = 0
    for girth in ("13 1/4", "14 5/8", "15", "13 3/8", "13 3/4"):
        hand.read(girth)
    assert hand.page.locator("[data-slip]").is_visible(), "an inch less than the left"
    hand.tap("[data-go]:has-text('Measure again')", opens=False)
    for girth in ("14 3/4", "15"):
        hand.read(girth)
    for girth in ("13 1/4", "13 1/2", "14 1/4"):
        hand.read(girth)
    hand.tap("[name=boot_left_1]", opens=False)
    hand.read("13 7/8")
    for girth in ("13 1/4", "14", "14 1/4"):
        hand.read(girth)
    hand.tap("[data-go]")
    girths = [one.girth_text for one in readings.legs(store, 1)]
    assert "14 3/4" in girths
    assert "13 3/4" not in girths
    assert hand.spent <= 46


def test_three_heights_both_legs_and_both_boots_take_forty_taps(hand: Hand, store: Store) -> None:
    """From the open sheet to the answer, one pass."""
    hand.open("/")
    take_in(hand)
    hand.open("/fits/1/measure?how=leg")
    hand.spent = 0
    for girth in ("13 1/4", "14 5/8", "15", "13 3/8", "14 3/4", "15"):
        hand.read(girth)
    for girth in ("13 1/4", "13 7/8", "14 1/4", "13 1/4", "14", "14 1/4"):
        hand.read(girth)
    hand.tap("[data-go]")
    assert len(readings.legs(store, 1)) == 6
    assert hand.spent <= 40


def test_a_regular_customers_legs_are_measured_only_where_last_time_was_near(
    hand: Hand, store: Store, clock: Clock
) -> None:
    """One tap shows the legs of last time; the boots come first, and where they have an inch of
    room the leg may stay empty.
    """
    act = Act(clock.now, 1)
    first, fit_id = pair_taken_in(store, act), pair_taken_in(store, act)
    typed = cells(leg=LEG, boot=BOOT)
    measuring_save.save(store, act, first, sheet_of("leg", typed), Terms(), None)
    with store.write_tx():
        customer_id = tickets.get(store, fits.get(store, first).ticket_id).customer_id
        store.change("tickets", fits.get(store, fit_id).ticket_id, customer_id=customer_id)
    hand.open(f"/fits/{fit_id}/measure?how=leg&depth=gap")
    assert not hand.page.get_by_text("last time 14⅛").first.is_visible()
    hand.spent = 0
    hand.tap("[data-compare]", opens=False)
    assert hand.page.get_by_text("last time 14⅛").first.is_visible()
    for girth in ("13 1/4", "13 7/8", "15 1/2") * 2:
        hand.read(girth)
    marks = hand.page.locator(".cell:has-text('last time 14⅛') .how")
    assert marks.all_inner_texts() == ["not needed"] * 2
    for girth in ("13 1/4", "14 5/8", "13 3/8", "14 3/4"):
        hand.read(girth)
    hand.tap("[data-go]")
    assert len(readings.legs(store, fit_id)) == 4
    assert hand.spent == 1 + 12 + 8 + 1


def test_heel_tips_only_are_agreed_within_twelve_taps_beside_the_name(
    hand: Hand, store: Store, clock: Clock
) -> None:
    """No boots to stretch, heel tips ticked, their price from the list."""
    entry = EntryInput(what="Heel tips", price_minor=1800)
    price_list.save(store, Act(clock.now), "heel-tips", entry)
    hand.open("/")
    hand.tap("nav a:has-text('New job')")
    hand.type_free("#phone", "5550100142")
    hand.type_free("#name", "Marisol")
    hand.tap("label:has-text('no boots')", opens=False)
    hand.tap("summary:has-text('Add work')", opens=False)
    hand.tap("label:has-text('Heel tips')", opens=False)
    hand.tap("button:has-text('Open the ticket')")
    assert hand.page.input_value("[name=line_0_amount]") == "18"
    hand.tap("label[for='agreed']", opens=False)
    hand.tap("button:has-text('Save the agreement')")
    (item,) = items.of_ticket(store, 1)
    assert (item.kind, item.jobs, item.state) == ("shoe", "Heel tips", "queued")
    assert hand.spent <= 12


def test_no_is_said_with_its_reason_within_twelve_taps(hand: Hand, store: Store) -> None:
    """By the leather before any tape; by the tape with one gap and one girth."""
    hand.open("/")
    hand.tap("nav a:has-text('New job')")
    hand.type_free("#name", "Marisol")
    hand.spent += 2  # the list opens, and one of it is touched
    hand.page.select_option("#material", "coated")
    hand.tap("label[for='nothing_seen']", opens=False)
    hand.tap("button:has-text('Open the ticket')")
    assert hand.page.get_by_text("Better not").is_visible()
    hand.tap("button:has-text('Another boot')")
    assert {boot.state for boot in fits.boots(store, 1)} == {"declined"}
    assert hand.spent <= 8

    hand.spent = 0
    hand.tap("nav a:has-text('New job')")
    hand.type_free("#name", "Tobias")
    hand.tap("label[for='nothing_seen']", opens=False)
    hand.tap("button:has-text('Open the ticket')")
    hand.read("4")
    hand.tap("[name=boot_left_0]", opens=False)
    hand.read("13")
    hand.tap("[data-go]")
    if hand.page.locator(".asks").count():
        hand.tap("a:has-text('Show the customer')")
    assert hand.page.locator("h1").inner_text().startswith("Not by stretching")
    hand.tap("button:has-text('Another boot')")
    assert {boot.state for boot in fits.boots(store, 2)} == {"declined"}
    assert hand.spent <= 12
