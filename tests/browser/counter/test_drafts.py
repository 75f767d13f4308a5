"""A New job that is begun on one phone and finished on another."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from pathlib import Path

import pytest
from browser.hand import Hand
from browser.offline_cast import until
from playwright.sync_api import Page
from support.cast import Clock
from support.served_shop import open_shop

from fitcounter.store import customers, tickets
from fitcounter.store.database import Store

pytestmark = pytest.mark.browser


@pytest.fixture
def address(store: Store, tmp_path: Path, clock: Clock) -> Iterator[str]:
    with open_shop(tmp_path, clock) as opened:
        yield opened


def test_what_was_typed_on_one_phone_is_finished_on_another(
    address: str, store: Store, open_page: Callable[..., Page]
) -> None:
    """Kept while it is typed, without a button; found in the list of the second phone with every
    word; gone once the ticket is open.
    """
    first, second = (Hand.signed_in(open_page("about:blank"), address, who) for who in ("CO", "OW"))
    first.open("/new")
    first.page.fill("#phone", "(412) 555-0142")
    first.page.fill("#name", "Marisol")
    first.page.fill("#description", "chestnut, gold buckle")
    first.page.locator("label[for='closure-1']").tap()
    whole = "SELECT count(*) FROM drafts WHERE form LIKE '%gold buckle%' AND form LIKE '%pull-on%'"
    until(first.page, lambda: store.value(whole) == 1)

    second.open("/new")
    second.tap("a:has-text('Marisol')")
    page = second.page
    assert [page.input_value(field) for field in ("#phone", "#name", "#description")] == [
        "(412) 555-0142",
        "Marisol",
        "chestnut, gold buckle",
    ]
    assert page.locator("#closure-1").is_checked()
    second.tap("label[for='nothing_seen']", opens=False)
    second.tap("button:has-text('Open the ticket')")
    assert customers.get(store, tickets.get(store, 1).customer_id).name == "Marisol"
    assert store.value("SELECT count(*) FROM drafts") == 0
