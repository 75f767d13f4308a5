"""The wedding: promised for the 27th, the plan has slipped past it, and the customer needs the
boots on the 30th. Somebody calls in time, the promise moves, and the customer's page says both.
"""

from __future__ import annotations

import shutil
from collections.abc import Callable
from pathlib import Path

import pytest
from browser.hand import Hand
from playwright.sync_api import Page
from support.cast import Clock
from support.served_shop import open_shop
from support.whole_shop import NOW

from fitcounter.desk.common import link_token
from fitcounter.store import tickets
from fitcounter.store.database import Store

pytestmark = pytest.mark.browser


def test_a_promise_that_slips_past_a_wedding_is_told_in_time_and_moves(
    played: Path, tmp_path: Path, open_page: Callable[..., Page]
):
    folder = tmp_path / "shop"
    shutil.copytree(played, folder)
    store = Store(folder / "shop.db")
    sql = "SELECT t.id FROM tickets t JOIN customers c ON c.id = t.customer_id WHERE c.name LIKE ?"
    ticket_id = int(store.value(sql, "Halvard%"))
    with store.write_tx():
        store.change("tickets", ticket_id, needed_by="2026-03-30")
    with open_shop(folder, Clock(NOW)) as address:
        desk = Hand.signed_in(open_page("about:blank"), address)
        page = desk.page
        line = page.locator("[aria-labelledby=l-calls-to-make] .row", has_text="Bellweather")
        assert "Will miss Fri, Mar 27: now Sat, Apr 4" in line.inner_text().replace("will", "Will")
        line.tap()
        page.wait_for_url("**/call")
        words = page.inner_text("#words")
        assert "We are sorry: it will not be ready on Fri, Mar 27." in words
        assert "It will be ready on Sat, Apr 4." in words
        assert "We know that you need it by Mon, Mar 30. Please call us" in words
        assert page.input_value("[name=new_day]") == "2026-04-04"
        desk.tap("button[value=called]")

        desk.open("/")
        assert not line.count()
        assert desk.spent == 1
        desk.open(f"/tickets/{ticket_id}")
        days = page.inner_text("[aria-labelledby=t-days]")
        assert "Saturday, April 4" in days
        assert "before, Friday, March 27" in days

        token = link_token.link_token(link_token.link_key(folder), tickets.get(store, ticket_id))
        customer = open_page(f"{address}/c/{token}").inner_text("main")
        assert "Everything should be ready on Sat, Apr 4." in customer
        assert "We are sorry: before, we said Fri, Mar 27." in customer
    store.close()
