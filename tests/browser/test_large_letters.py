"""Every page on the narrowest phone with letters twice as large, in both languages: nothing stands
over anything else and no page scrolls sideways; and axe finds nothing on a Spanish page.
"""

from __future__ import annotations

import shutil
from dataclasses import dataclass, field
from datetime import UTC, datetime
from pathlib import Path

import pytest
from axe_playwright_python.sync_playwright import Axe
from browser.conftest import PHONE
from browser.test_every_page import STRUCTURE
from playwright.sync_api import Browser, Page
from support.cast import PASSPHRASE, Clock
from support.every_page import every_address
from support.served_shop import open_shop

from fitcounter.desk import shop
from fitcounter.desk.common import links
from fitcounter.desk.shop import Act
from fitcounter.store import tickets
from fitcounter.store.database import Store
from fitcounter.store.opening import open_store

pytestmark = pytest.mark.browser
NOW = datetime(2026, 3, 17, 14, 0, tzinfo=UTC)
NARROW = 320
TWICE = {"standard": 32, "fixed": 26}  # px: what browsers begin with is 16 and 13
SHOPS = {
    "es": {"locale": "es_ES", "zone": "Europe/Madrid", "country": "ES", "unit": "cm"},
    "en": {"locale": "en_US", "zone": "America/New_York", "country": "US"},
}
LINKED = "SELECT id FROM tickets WHERE link_hash IS NOT NULL ORDER BY state, id DESC LIMIT 6"
# Texts of different elements whose boxes cover each other by half a line and more. A fraction is
# one text in three pieces; the keys of Measure stay above what scrolls behind them.
OVER_EACH_OTHER = """() => {
  const boxes = [], over = [];
  const texts = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
  while (texts.nextNode()) {
    const of = texts.currentNode.parentElement, range = document.createRange();
    if (!texts.currentNode.data.trim() || of.closest('.vh, .skip, .frac, .nav, .entry, svg')) {
      continue;
    }
    range.selectNodeContents(texts.currentNode);
    for (const box of range.getClientRects()) {
      if (box.width > 1 && of.checkVisibility({ visibilityProperty: true })) {
        boxes.push({ box, of, words: texts.currentNode.data.trim().slice(0, 40) });
      }
    }
  }
  boxes.sort((a, b) => a.box.top - b.box.top);
  boxes.forEach((a, i) => {
    for (let j = i + 1; j < boxes.length && boxes[j].box.top < a.box.bottom; j += 1) {
      const b = boxes[j];
      const wide = Math.min(a.box.right, b.box.right) - Math.max(a.box.left, b.box.left);
      const high = Math.min(a.box.bottom, b.box.bottom) - b.box.top;
      if (a.of !== b.of && wide > 3 && high > Math.min(a.box.height, b.box.height) / 2) {
        over.push(`${a.words} × ${b.words}`);
      }
    }
  });
  return over.slice(0, 4);
}"""


@dataclass
class Walk:
    """What was found on the way, a line each."""

    visited: int = 0
    too_wide: list[str] = field(default_factory=list)
    over_each_other: list[str] = field(default_factory=list)
    barriers: list[str] = field(default_factory=list)

    def look(self, page: Page, path: str, language: str) -> None:
        self.visited += 1
        page.evaluate("document.querySelectorAll('details').forEach((one) => { one.open = true; })")
        if (width := page.evaluate("document.documentElement.scrollWidth")) > NARROW:
            self.too_wide.append(f"{path}: {width}")
        self.over_each_other += [f"{path}: {two}" for two in page.evaluate(OVER_EACH_OTHER)]
        if language == "es":  # English ones are looked at in test_every_page.py
            for one in Axe().run(page, options=STRUCTURE).response["violations"]:
                self.barriers.append(f"{path}: {one['id']} {one['nodes'][0]['html'][:120]}")


@pytest.fixture(scope="module", params=["es", "en"])
def walk(
    request: pytest.FixtureRequest,
    story: Path,
    tmp_path_factory: pytest.TempPathFactory,
    chromium: Browser,
) -> Walk:
    """One walk through everything in a language, signed in, and through customers' pages."""
    data_dir, language = tmp_path_factory.mktemp("letters"), str(request.param)
    shutil.copytree(story, data_dir, dirs_exist_ok=True)
    store = open_store(data_dir / "shop.db")
    shop.choose(store, Act(NOW), None, **SHOPS[language])
    found = Walk()
    with open_shop(data_dir, Clock(NOW)) as address:
        settings = {**PHONE, "viewport": {"width": NARROW, "height": 780}}
        context = chromium.new_context(**settings, locale=language, reduced_motion="reduce")
        page = context.new_page()
        context.new_cdp_session(page).send("Page.setFontSizes", {"fontSizes": TWICE})
        page.goto(f"{address}/sign-in")
        page.fill("[name=initials]", "OW")
        page.fill("[name=passphrase]", PASSPHRASE)
        with page.expect_navigation():
            page.locator("form button").last.tap()
        for path in _addresses(store, data_dir, language):
            page.goto(address + path)
            found.look(page, path, language)
        context.close()
    store.close()
    return found


def _addresses(store: Store, data_dir: Path, language: str) -> list[str]:
    """Each page in its states; the steps of a boot all stand on one page, so once."""
    key = links.link_key(data_dir)
    customers = [
        f"/c/{links.link_token(key, tickets.get(store, int(row['id'])))}?language={language}"
        for row in store.rows(LINKED)
    ]
    return [path for path in every_address(store) if "?do=" not in path] + customers


def test_letters_are_twice_as_large(chromium: Browser) -> None:
    """What the walk rests on."""
    context = chromium.new_context()
    page = context.new_page()
    context.new_cdp_session(page).send("Page.setFontSizes", {"fontSizes": TWICE})
    page.set_content("<p>Boots</p>")
    assert page.evaluate("getComputedStyle(document.documentElement).fontSize") == "32px"
    context.close()


def test_no_page_scrolls_sideways(walk: Walk) -> None:
    assert walk.visited > 60
    assert walk.too_wide == []


def test_no_words_stand_over_others(walk: Walk) -> None:
    assert walk.over_each_other == []


def test_no_page_has_a_barrier(walk: Walk) -> None:
    assert walk.barriers == []
