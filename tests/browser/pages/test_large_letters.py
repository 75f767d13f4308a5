"""Every page in Spanish on the narrowest phone with letters twice as large: nothing stands over
anything else, no page scrolls sideways, and axe finds nothing by the rules that hang on words. The
English ones are looked at on the walk of test_every_page.py, by all rules.
"""

from __future__ import annotations

import re
import shutil
from dataclasses import dataclass, field
from datetime import UTC, datetime
from pathlib import Path

import pytest
from browser.conftest import PHONE
from browser.pages import barriers
from browser.pages.large_letters import HIGH, NARROW, TWICE, Crowding
from playwright.sync_api import Browser, Page
from support.cast import PASSPHRASE, Clock
from support.every_page import every_address
from support.served_shop import open_shop

from fitcounter.desk import shop
from fitcounter.desk.common import link_token
from fitcounter.desk.shop import Act
from fitcounter.store import tickets
from fitcounter.store.database import Store
from fitcounter.store.opening import open_store

pytestmark = pytest.mark.browser
NOW = datetime(2026, 3, 17, 14, 0, tzinfo=UTC)
SPANISH = {"locale": "es_ES", "zone": "Europe/Madrid", "country": "ES", "unit": "cm"}
LINKED = "SELECT id FROM tickets WHERE link_hash IS NOT NULL ORDER BY state, id DESC LIMIT 4"


@dataclass
class Walk:
    """What was found on the way."""

    crowding: Crowding = field(default_factory=Crowding)
    barriers: list[str] = field(default_factory=list)

    def look(self, page: Page, path: str) -> None:
        page.evaluate("document.querySelectorAll('details').forEach((one) => { one.open = true; })")
        self.crowding.look(page, path)
        for one in barriers.barred(page, barriers.WORDS):
            self.barriers.append(f"{path}: {one['id']} {one['nodes'][0]['html'][:120]}")


@pytest.fixture(scope="module")
def walk(story: Path, tmp_path_factory: pytest.TempPathFactory, chromium: Browser) -> Walk:
    """One walk through everything in Spanish, signed in, and through customers' pages."""
    data_dir = tmp_path_factory.mktemp("letters")
    shutil.copytree(story, data_dir, dirs_exist_ok=True)
    store = open_store(data_dir / "shop.db")
    shop.choose(store, Act(NOW), None, **SPANISH)
    found = Walk()
    with open_shop(data_dir, Clock(NOW)) as address:
        settings = {**PHONE, "viewport": {"width": NARROW, "height": HIGH}}
        settings |= {"locale": "es", "reduced_motion": "reduce", "service_workers": "block"}
        context = chromium.new_context(**settings)
        barriers.prepare(context)
        page = context.new_page()
        context.new_cdp_session(page).send("Page.setFontSizes", {"fontSizes": TWICE})
        page.goto(f"{address}/sign-in")
        page.fill("[name=initials]", "OW")
        page.fill("[name=passphrase]", PASSPHRASE)
        with page.expect_navigation():
            page.locator("form button").last.tap()
        for path in _addresses(store, data_dir):
            page.goto(address + path)
            found.look(page, path)
        context.close()
    store.close()
    return found


def _addresses(store: Store, data_dir: Path) -> list[str]:
    """Each page once, an item in each of its states; the steps of a boot all stand on one page.

    The other states of a page are looked at with large letters in English.
    """
    key = link_token.link_key(data_dir)
    customers = [
        f"/c/{link_token.link_token(key, tickets.get(store, int(row['id'])))}?language=es"
        for row in store.rows(LINKED)
    ]
    once: dict[str, str] = {}
    for path in every_address(store):
        if "?do=" not in path:
            shape = path if path.startswith("/items/") else re.sub(r"\d+", "N", path)
            once.setdefault(shape, path)
    return [*once.values(), *customers]


def test_letters_are_twice_as_large(chromium: Browser) -> None:
    """What the walk rests on."""
    context = chromium.new_context()
    page = context.new_page()
    context.new_cdp_session(page).send("Page.setFontSizes", {"fontSizes": TWICE})
    page.set_content("<p>Boots</p>")
    assert page.evaluate("getComputedStyle(document.documentElement).fontSize") == "32px"
    context.close()


def test_no_page_scrolls_sideways(walk: Walk) -> None:
    assert walk.crowding.visited > 60
    assert walk.crowding.too_wide == []


def test_no_words_stand_over_others(walk: Walk) -> None:
    assert walk.crowding.over_each_other == []


def test_no_page_has_a_barrier_in_its_words(walk: Walk) -> None:
    assert walk.barriers == []
