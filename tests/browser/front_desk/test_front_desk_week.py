"""The front desk's week in a browser: one ticket and its money, told alike until the till is
closed.
"""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest
from browser.hand import Hand
from playwright.sync_api import Page
from support.cast import Clock
from support.served_shop import open_shop
from support.ticket_rows import Job, make_job

from fitcounter.desk.common.catch_up import catch_up
from fitcounter.desk.common.state_changes import StepInput
from fitcounter.store import bills, customers, items, tickets, tills
from fitcounter.store.database import Act, Store

pytestmark = pytest.mark.browser


@pytest.fixture
def job(store: Store, clock: Clock) -> Job:
    """One boot of a pair is ready; the customer was entered twice."""
    act = Act(clock.now, 1)
    job = make_job(store, act)
    make_job(store, act, name="Marisol Okafor Lind")
    catch_up(store, act, job.left, "shelved", StepInput(act.at, columns={"shelf": "C2"}))
    return job


def test_a_week_of_the_front_desk(
    store: Store, job: Job, clock: Clock, tmp_path: Path, open_page: Callable[..., Page]
):
    with open_shop(tmp_path, clock) as address:
        hand = Hand.signed_in(open_page("about:blank"), address)
        _found_by_her_name_reversed(hand, job)
        _price_raised_by_phone(hand, store, job)
        _one_boot_fetched_by_her_spouse(hand, store, job)
        _the_rest_cancelled_and_fetched(hand, store, job)
        _back_for_another_look(hand, store, job)
        _entered_twice_and_merged(hand, store, job)
        _paid_and_the_till_closed(hand, store, job)


def _found_by_her_name_reversed(hand: Hand, job: Job) -> None:
    hand.open("/")
    hand.type_free("#q", "lind mari")
    hand.page.wait_for_selector(f"[aria-labelledby='l-found'] a[href='/tickets/{job.ticket_id}']")


def _price_raised_by_phone(hand: Hand, store: Store, job: Job) -> None:
    line = bills.lines(store, job.ticket_id)[0].id
    hand.open(f"/tickets/{job.ticket_id}/price")
    hand.tap("details.aside > summary", opens=False)
    hand.page.fill(f"[name=line_{line}_amount]", "120")
    hand.page.fill("[name=why]", "a third round")
    hand.tap("label:has([name=yes][value=phone])", opens=False)
    hand.tap("button.next")
    assert bills.lines(store, job.ticket_id)[0].amount_minor == 12000
    assert "The total is $120.00 now." in hand.page.inner_text("main")


def _one_boot_fetched_by_her_spouse(hand: Hand, store: Store, job: Job) -> None:
    hand.tap("a:has-text('Hand over what is ready')")
    hand.tap(f"label[for=item-{job.left}]", opens=False)
    hand.tap("label[for=part]", opens=False)
    hand.tap("details.aside > summary", opens=False)
    hand.page.fill("[name=collected_by]", "Tobias")
    hand.tap("button[name=method]:has-text('Pays later')")
    assert items.get(store, job.left).state == "out"
    assert [one.collected_by for one in tills.handovers(store, job.ticket_id)] == ["Tobias"]


def _back_for_another_look(hand: Hand, store: Store, job: Job) -> None:
    hand.open(f"/tickets/{job.ticket_id}")
    hand.tap("a:has-text('Back for another look')")
    hand.page.fill(f"[name=boot-{job.left}]", "14 1/2")
    hand.page.fill("[name=said]", "tight above the ankle")
    hand.tap("button.next")
    assert items.get(store, job.left).state != "out"


def _the_rest_cancelled_and_fetched(hand: Hand, store: Store, job: Job) -> None:
    hand.open(f"/tickets/{job.ticket_id}/cancel")
    hand.page.fill("[name=charge]", "80")
    hand.tap("button.next")
    assert items.get(store, job.right).state == "declined"
    assert "Cancelled." in hand.page.inner_text("main")
    hand.open(f"/pickup/{job.ticket_id}")
    hand.tap(f"label[for=item-{job.right}]", opens=False)
    hand.tap(f"label[for=item-{job.bag}]", opens=False)
    hand.tap("button[name=method]:has-text('Pays later')")
    assert tickets.get(store, job.ticket_id).state == "out"


def _entered_twice_and_merged(hand: Hand, store: Store, job: Job) -> None:
    hand.open(f"/tickets/{job.ticket_id}/merge")
    hand.tap("[aria-labelledby='l-alike'] a")
    hand.tap("label:has([name=keep]) >> nth=0", opens=False)
    hand.tap("label:has([name=sure])", opens=False)
    hand.tap("button.next")
    kept = tickets.get(store, job.ticket_id).customer_id
    assert len(tickets.of_customer(store, kept)) == 2
    hand.open(f"/tickets/{job.ticket_id}/merge")
    hand.tap("button:has-text('Undo the merge')")
    assert len(tickets.of_customer(store, kept)) == 1
    assert customers.get(store, kept).name.startswith("Marisol")


def _paid_and_the_till_closed(hand: Hand, store: Store, job: Job) -> None:
    due = store.value("SELECT due_minor FROM tickets WHERE id = ?", job.ticket_id)
    assert due > 0
    owes = f"${due / 100:.2f}".removesuffix(".00")
    hand.open("/till")
    row = hand.page.locator(f"[aria-labelledby='l-still-owed'] [href='/tickets/{job.ticket_id}']")
    assert owes in row.inner_text()
    hand.open(f"/tickets/{job.ticket_id}")
    hand.tap("summary:has-text('Payments and refunds')", opens=False)
    hand.page.fill("[name=amount]", f"{due / 100:.2f}")
    hand.tap("label:has([name=method][value=card])", opens=False)
    hand.tap("button:has-text('Save entry')")
    hand.open("/till")
    assert row.count() == 0
    for name, amount in (
        ("change", "0"),
        ("counted_cash", "0"),
        ("counted_card", f"{due / 100:.2f}"),
    ):
        hand.page.fill(f"[name={name}]", amount)
    hand.page.fill("[name=counted_unsaid]", "60")
    hand.tap("button:has-text('Close the till')")
    assert "Right to the cent." in hand.page.inner_text("main")
