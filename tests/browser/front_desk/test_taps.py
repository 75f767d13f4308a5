"""Tap budgets of the front desk and pickup.

A tap and a typed character count one each; a scan is given.
"""

from __future__ import annotations

import pytest
from browser.hand import Hand
from support.cast import Clock
from support.ticket_rows import Job

from fitcounter.desk.common.catch_up import catch_up
from fitcounter.desk.common.state_changes import StepInput
from fitcounter.store import bills, items, tickets
from fitcounter.store.database import Act, Store

pytestmark = pytest.mark.browser


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
