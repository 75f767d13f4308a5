"""Tap budgets: what the counter and the bench may spend on each job. A tap and a typed character count one each; a scan is given."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from pathlib import Path

import pytest
from cast import PASSPHRASE, Clock
from open_shop import open_shop
from playwright.sync_api import Page
from tickets import Job, make_job

from fitcounter.desk.stepping import Said, catch_up
from fitcounter.store import items, tags, tickets
from fitcounter.store.database import Act, Store

pytestmark = pytest.mark.browser


class Hand:
    """Counts taps and typed characters on one phone; scanning opens the tag's address, as the phone's camera does."""

    def __init__(self, page: Page, address: str) -> None:
        self.page, self.address, self.spent, self.scans = page, address, 0, 0
        page.goto(address + "/sign-in")
        page.fill("[name=initials]", "OW")
        page.fill("[name=passphrase]", PASSPHRASE)
        with page.expect_navigation():
            page.get_by_role("button", name="Sign in").tap()

    def scan(self, code: str) -> None:
        self.scans += 1
        self.page.goto(f"{self.address}/T/{code}")

    def tap(self, target: str, *, opens: bool = True) -> None:
        self.spent += 1
        found = self.page.locator(target).first
        if opens:
            with self.page.expect_navigation():
                found.tap()
        else:
            found.tap()

    def type(self, target: str, text: str) -> None:
        self.spent += len(text)
        self.page.locator(target).first.press_sequentially(text)


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
def hand(store: Store, codes: dict[int, str], tmp_path: Path, clock: Clock, open_page: Callable[..., Page]) -> Iterator[Hand]:
    with open_shop(tmp_path, clock) as address:
        yield Hand(open_page(address + "/sign-in"), address)


def test_off_the_tree_is_a_scan_and_one_tap(hand: Hand, store: Store, job: Job, codes: dict[int, str], clock: Clock):
    with store.write_tx():
        store.insert("rounds", item_id=job.left, n=1, on_at="2026-03-10T10:00:00Z", due_off_at="2026-03-17T10:00:00Z")
    catch_up(store, Act(clock.now, 1), job.left, "on-tree", Said(clock.now))
    hand.scan(codes[job.left])
    hand.tap("form[action$='/take-off'] button.next")
    assert items.get(store, job.left).state == "resting"
    assert (hand.scans, hand.spent) == (1, 1)


def test_an_item_is_caught_up_in_three_taps(hand: Hand, store: Store, job: Job, codes: dict[int, str]):
    hand.scan(codes[job.left])
    hand.tap("a:has-text('further along')")
    hand.tap("label:has-text('ready on the shelf')", opens=False)
    hand.tap("form[action$='/further'] button[type=submit]")
    assert items.get(store, job.left).state == "shelved"
    assert hand.spent <= 3


def test_is_it_ready_is_answered_on_today_within_four_keys(hand: Hand, store: Store, job: Job):
    hand.page.goto(hand.address + "/")
    before = hand.page.url
    hand.type("#q", "1")
    hand.page.wait_for_function("document.querySelector('[data-answer]').textContent.includes('waiting for the bench')")
    assert hand.page.url == before
    assert hand.spent <= 4


def test_pair_and_bag_go_over_the_counter_with_four_scans_and_two_taps(
    hand: Hand, store: Store, job: Job, codes: dict[int, str], clock: Clock
):
    for item_id in (job.left, job.right, job.bag):
        catch_up(store, Act(clock.now, 1), item_id, "shelved", Said(clock.now, columns={"shelf": "C2"}))
    hand.scans += 1  # her claim check leads to her number
    hand.page.goto(f"{hand.address}/pickup/{job.ticket_id}")
    hand.tap("button:has-text('both fit')")
    for code in codes.values():
        hand.scans += 1  # a scan fills the field and sends it, as the keyboard of a scanner does
        with hand.page.expect_navigation():
            hand.page.locator("#scan").evaluate("(field, code) => { field.value = code; field.form.requestSubmit(field.form.querySelector('[name=strike]')) }", code)
    hand.tap("form[data-pickup] button.next")
    assert tickets.get(store, job.ticket_id).state == "out"
    assert (hand.scans, hand.spent) == (4, 2)
