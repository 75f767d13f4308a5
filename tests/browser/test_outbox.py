"""Nothing typed is lost without network: what waits on the phone arrives once, in its order, whatever happens on the way."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
from bench_cast import pair
from browser.offline_cast import Pocket, Shelf, controlled, own_server, pocket, until
from cast import Clock
from playwright.sync_api import Browser, Page, Route

from fitcounter.store import findings
from fitcounter.store.database import Act, Store

pytestmark = pytest.mark.browser


@pytest.fixture
def shelf(store: Store, tmp_path: Path) -> Iterator[Shelf]:
    with own_server(tmp_path) as opened:
        yield opened


@pytest.fixture
def phone(chromium: Browser, shelf: Shelf) -> Iterator[Pocket]:
    with pocket(chromium, shelf.address) as held:
        yield held


def see(page: Page, note: str) -> None:
    """One thing seen on the boot whose page is open."""
    page.locator("[name=word]").first.check(force=True)
    page.fill("[name=note]", note)
    page.locator("details.step form button.next").tap()


def test_fifty_saves_without_network_arrive_once_each_in_their_order(phone: Pocket, store: Store, clock: Clock) -> None:
    """Five flaps, one answer lost on its way back, and a sign-in that expires in the middle of it."""
    boots = pair(store, Act(clock.now))
    page = phone.sign_in("BE")
    page.goto(f"{phone.address}/items/{boots.left}?do=finding")
    controlled(page)
    wanted = [f"seen {n}" for n in range(50)]
    lost = []

    def lose_the_answer(route: Route) -> None:
        route.fetch()
        lost.append(route.request.post_data)
        route.abort()

    for n, note in enumerate(wanted):
        if n % 10 == 0:
            phone.context.set_offline(True)
        see(page, note)
        until(page, lambda: page.input_value("[name=note]") == "")
        if n % 10 == 9 and n < 49:  # back for a moment: whatever gets through gets through
            if n == 19:
                page.route("**/finding", lose_the_answer, times=1)
            phone.context.set_offline(False)
            page.wait_for_timeout(150)
            phone.context.set_offline(True)
            if n == 29:
                with store.write_tx():
                    store.db.execute("UPDATE sessions SET ended_at = '2026-03-17T15:00:00Z'")
    waiting = len(phone.kept(page))
    assert waiting >= 20
    assert page.locator("[data-outbox]").inner_text() == f"{waiting} not sent yet, safe on this phone"

    phone.context.set_offline(False)
    page.goto(f"{phone.address}/unsent")
    page.get_by_text("You are signed out").wait_for()
    assert len(phone.kept(page)) == waiting
    page.get_by_role("link", name="Sign in").tap()
    phone.sign_in("BE", page)
    until(page, lambda: not phone.kept(page))

    page.get_by_text("Everything is sent").wait_for()
    assert [one.note for one in findings.of_item(store, boots.left)] in (wanted, wanted[::-1])
    assert len(lost) == 1
