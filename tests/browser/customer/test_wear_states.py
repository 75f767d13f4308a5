"""Her page in every state it can show: nothing moves while it loads or for whoever wants no motion,
every target is large enough for a thumb, every text stands out, what is read aloud comes in the
order it stands in, and in Spanish on the narrowest phone letters twice as large find their place.
"""

from __future__ import annotations

import shutil
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field
from pathlib import Path

import pytest
from browser.conftest import PHONE, complains
from browser.pages import barriers
from browser.pages.barriers import Contrasts
from browser.pages.large_letters import HIGH, NARROW, TWICE, Crowding
from playwright.sync_api import Browser, Page
from support.her_states import DIGITS, ZONE, Hers, State, every_state, hers
from support.said_on_pages import Foreign, foreign, said_of_the_other, texts_of

pytestmark = pytest.mark.browser
MOST_SHIFT = 0.02
SLOWLY_TOO = ("wearing day", "time is up")
TYPED = ("Come in before you go on.", "tan bag", "new zip", "chestnut tall boot", "Marisol")
# a line on which the page is seen before its scripts are there, unless it waits for them
SLOW = {"offline": False, "latency": 200, "downloadThroughput": -1, "uploadThroughput": -1}
LEAST_PX = 48
SHIFTS = """window.shifted = 0; window.movers = [];
new PerformanceObserver((list) => {
  for (const one of list.getEntries()) {
    if (one.hadRecentInput) continue;
    window.shifted += one.value;
    window.movers.push(...one.sources.map(({ node }) => (node?.outerHTML ?? '').slice(0, 80)));
  }
}).observe({ type: 'layout-shift', buffered: true });"""
SEEN_TWICE = """() => new Promise((done) => {
  requestAnimationFrame(() => requestAnimationFrame(() => setTimeout(done, 50)));
})"""
SMALL = """(least) => [...document.querySelectorAll(':is(main, header) :is(button, .press, .choice,'
  + ' .spot input, summary, .acts a, select, textarea, input:not([type=hidden], .choice input))')]
  .filter((one) => one.checkVisibility() && !one.closest('.vh'))
  .filter((one) => {
    const { width, height } = one.getBoundingClientRect();
    return height < least - 0.5 || width < least - 0.5;
  }).map((one) => one.outerHTML.slice(0, 90))"""
# Blocks of words that stand above one that is read before them. The drawn pair is a grid.
OUT_OF_ORDER = """() => {
  const texts = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT), found = [];
  let last = null;
  while (texts.nextNode()) {
    const { currentNode: text } = texts, of = text.parentElement;
    if (!text.data.trim() || of.closest('.spots, .vh, .skip, svg, .wears, .days, .three')
      || !of.checkVisibility({ visibilityProperty: true })) continue;
    const range = document.createRange();
    range.selectNodeContents(text);
    const { top, bottom } = range.getBoundingClientRect();
    if (last && bottom <= last.top + 1) found.push(`${last.words} / ${text.data.trim()}`);
    last = { top, words: text.data.trim().slice(0, 40) };
  }
  return found;
}"""
MOVING = """() => [...document.querySelectorAll('*')].filter((one) => {
  const { transitionDuration, animationName, scrollBehavior } = getComputedStyle(one);
  return transitionDuration.split(', ').some((each) => each !== '0s') || animationName !== 'none'
    || scrollBehavior === 'smooth';
}).map((one) => one.outerHTML.slice(0, 90))"""


@dataclass
class Walk:
    """State by state what was found."""

    visited: list[str] = field(default_factory=list)
    shifted: dict[str, tuple[float, list[str]]] = field(default_factory=dict)
    below: dict[str, int] = field(default_factory=dict)
    small: dict[str, list[str]] = field(default_factory=dict)
    out_of_order: dict[str, list[str]] = field(default_factory=dict)
    moving: dict[str, list[str]] = field(default_factory=dict)
    barriers: list[str] = field(default_factory=list)
    complaints: list[str] = field(default_factory=list)
    english: list[str] = field(default_factory=list)
    crowding: Crowding = field(default_factory=Crowding)
    contrasts: Contrasts = field(default_factory=lambda: Contrasts(barriers.STRONG))

    def load(self, page: Page, state: str) -> None:
        """At the page as it came."""
        page.wait_for_function("document.fonts.status === 'loaded'")
        page.evaluate(SEEN_TWICE)
        self.shifted[state] = (page.evaluate("window.shifted"), page.evaluate("window.movers"))

    def look(self, page: Page, state: str) -> None:
        """The same, then with all folded open."""
        self.load(page, state)
        self.visited.append(state)
        for hurts in page.locator(".hurts:visible").all():
            box = hurts.bounding_box() or {"y": HIGH, "height": 0}
            self.below[state] = round(box["y"] + box["height"])
        _unfold(page)
        self.small[state] = page.evaluate(SMALL, LEAST_PX)
        self.out_of_order[state] = page.evaluate(OUT_OF_ORDER)
        self.moving[state] = page.evaluate(MOVING)
        found = [(state, one) for one in barriers.barred(page, barriers.STRUCTURE)]
        found += [(f"{state} ({theme})", one) for theme, one in self.contrasts.barred(page)]
        for where, one in found:
            nodes = [node["html"][:120] for node in one["nodes"][:3]]
            self.barriers.append(f"{where}: {one['id']} at {nodes}")

    def look_in_spanish(self, page: Page, state: str, others: Foreign) -> None:
        _unfold(page)
        self.crowding.look(page, state)
        said = others.among(texts_of(page.content(), "es"))
        self.english += [f"{state}: {words}" for words in said]


@dataclass
class Phones:
    """Two phones of one customer: one speaks English, one Spanish in letters twice as large."""

    hers: Hers
    english: Page
    spanish: Page

    def open(self, page: Page, state: State) -> None:
        page.clock.set_fixed_time(self.hers.clock.now)
        if state.started is not None:
            at = self.hers.clock.now.timestamp() * 1000 - state.started * 60_000
            key = [self.hers.key(), str(int(at))]
            page.evaluate("([key, at]) => localStorage.setItem(key, at)", key)
        page.goto(state.address)
        if state.digits and page.locator("#digits").count():
            page.fill("#digits", DIGITS)
            with page.expect_navigation():
                page.locator("form button.next").tap()
            page.reload()
        assert page.url == state.address


@contextmanager
def _phones(chromium: Browser, her: Hers, walk: Walk) -> Iterator[Phones]:
    usual = {**PHONE, "service_workers": "block", "timezone_id": ZONE, "reduced_motion": "reduce"}
    narrow = {"viewport": {"width": NARROW, "height": HIGH}, "locale": "es"}
    contexts = [chromium.new_context(**usual), chromium.new_context(**{**usual, **narrow})]
    contexts[0].add_init_script(SHIFTS)
    barriers.prepare(contexts[0])
    pages = [context.new_page() for context in contexts]
    for page in pages:
        page.on("console", lambda said: complains(said) and _note(walk, said.text))
        page.on("pageerror", lambda error: _note(walk, str(error)))
    contexts[1].new_cdp_session(pages[1]).send("Page.setFontSizes", {"fontSizes": TWICE})
    yield Phones(her, *pages)
    for context in contexts:
        context.close()


def _note(walk: Walk, text: str) -> None:
    if "Failed to load resource" not in text:  # a link that is dead on purpose
        walk.complaints.append(text)


def _unfold(page: Page) -> None:
    page.evaluate("document.querySelectorAll('details').forEach((one) => { one.open = true; })")


def _slowly(phones: Phones, state: State) -> None:
    line = phones.english.context.new_cdp_session(phones.english)
    line.send("Network.enable")
    line.send("Network.setCacheDisabled", {"cacheDisabled": True})
    line.send("Network.emulateNetworkConditions", SLOW)
    phones.open(phones.english, state)
    line.detach()


@pytest.fixture(scope="module")
def walk(new_shop: Path, chromium: Browser, tmp_path_factory: pytest.TempPathFactory) -> Walk:
    """One walk from the counter to the end of the calendar."""
    data_dir = tmp_path_factory.mktemp("hers")
    shutil.copytree(new_shop, data_dir, dirs_exist_ok=True)
    found = Walk()
    others = foreign(said_of_the_other("es"), TYPED)
    with hers(data_dir) as her, _phones(chromium, her, found) as phones:
        for state in every_state(her):
            phones.open(phones.english, state)
            found.look(phones.english, state.name)
            if state.name in SLOWLY_TOO:
                _slowly(phones, state)
                found.load(phones.english, f"{state.name}, slowly")
            phones.open(phones.spanish, state)
            found.look_in_spanish(phones.spanish, state.name, others)
    return found


def test_nothing_moves_while_it_loads(walk: Walk) -> None:
    assert len(walk.visited) > 25
    assert {state: one for state, one in walk.shifted.items() if one[0] > MOST_SHIFT} == {}


def test_that_it_hurts_can_be_told_within_the_first_screen(walk: Walk) -> None:
    """Beside the clock and on every day on which the boots may be on."""
    assert {"wearing day", "counting", "time is up", "a week without"} <= set(walk.below)
    assert {state: end for state, end in walk.below.items() if end > HIGH} == {}


def test_nothing_moves_for_whoever_wants_no_motion(walk: Walk) -> None:
    assert {state: found for state, found in walk.moving.items() if found} == {}


def test_whatever_is_touched_is_large_enough_for_a_thumb(walk: Walk) -> None:
    assert {state: found for state, found in walk.small.items() if found} == {}


def test_what_is_read_aloud_comes_in_the_order_it_stands_in(walk: Walk) -> None:
    assert {state: found for state, found in walk.out_of_order.items() if found} == {}


def test_axe_finds_no_barrier_and_every_text_stands_out_seven_to_one(walk: Walk) -> None:
    assert walk.barriers == []
    assert walk.complaints == []


def test_letters_twice_as_large_find_their_place_in_spanish(walk: Walk) -> None:
    assert walk.crowding.too_wide == []
    assert walk.crowding.over_each_other == []


def test_the_spanish_page_says_nothing_in_english(walk: Walk) -> None:
    assert walk.english == []
