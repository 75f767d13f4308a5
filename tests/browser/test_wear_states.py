"""Her page in every state it can show: nothing moves while it loads, every target is large enough
for a thumb, and what is read aloud comes in the order it stands in.
"""

from __future__ import annotations

import shutil
from dataclasses import dataclass, field
from datetime import timedelta
from pathlib import Path

import pytest
from browser.conftest import PHONE
from playwright.sync_api import Browser, Page
from support.cast import Clock
from support.served_shop import open_shop
from support.ticket_rows import Job, make_job

from fitcounter.desk import shop
from fitcounter.desk.aftercare import not_right, wear_calendar
from fitcounter.desk.common import link_token
from fitcounter.desk.common.item_steps import StepInput, catch_up
from fitcounter.desk.front_desk import pickup
from fitcounter.store import tickets
from fitcounter.store.database import Act, Store
from fitcounter.store.opening import open_store

pytestmark = pytest.mark.browser
MOST_SHIFT = 0.02
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


@dataclass
class Walk:
    """State by state what was found."""

    shifted: dict[str, tuple[float, list[str]]] = field(default_factory=dict)
    small: dict[str, list[str]] = field(default_factory=dict)
    out_of_order: dict[str, list[str]] = field(default_factory=dict)

    def look(self, page: Page, state: str, address: str) -> None:
        assert (page.goto(address) or page).url == address
        page.wait_for_function("document.fonts.status === 'loaded'")
        page.evaluate(SEEN_TWICE)
        self.shifted[state] = (page.evaluate("window.shifted"), page.evaluate("window.movers"))
        page.evaluate("document.querySelectorAll('details').forEach((one) => { one.open = true; })")
        self.small[state] = page.evaluate(SMALL, LEAST_PX)
        self.out_of_order[state] = page.evaluate(OUT_OF_ORDER)


@dataclass
class Hers:
    """Her ticket, her page and the clock of the shop."""

    store: Store
    clock: Clock
    job: Job
    page: Page
    address: str
    walk: Walk = field(default_factory=Walk)

    def look(self, state: str, path: str = "") -> None:
        self.page.clock.set_fixed_time(self.clock.now)
        self.walk.look(self.page, state, self.address + path)

    def on_a_slow_line(self, state: str) -> None:
        line = self.page.context.new_cdp_session(self.page)
        line.send("Network.enable")
        line.send("Network.setCacheDisabled", {"cacheDisabled": True})
        line.send("Network.emulateNetworkConditions", SLOW)
        self.look(state)
        line.detach()

    def hand_over(self) -> None:
        things = (self.job.left, self.job.right, self.job.bag)
        act = Act(self.clock.now, 1)
        for item_id in things:
            catch_up(self.store, act, item_id, "shelved", StepInput(act.at))
        handed = pickup.Handover(
            frozenset(things), act.at, "Marisol", preset="three-short-wears", hour=18
        )
        pickup.hand_over(self.store, act, self.job.ticket_id, handed, shop.read(self.store))

    def clock_started(self, minutes_ago: int) -> None:
        at = (self.clock.now - timedelta(minutes=minutes_ago)).timestamp() * 1000
        key = f"wear {self.address[-6:]} 1"
        self.page.evaluate("([key, at]) => localStorage.setItem(key, at)", [key, str(int(at))])

    def wear(self) -> None:
        plan = wear_calendar.current(self.store, self.job.ticket_id, self.clock.now).plan
        due = plan.to_come[0]
        self.clock.now = due.end
        wear_calendar.record_wear(
            self.store, Act(self.clock.now), self.job.ticket_id, due.n, due.start, due.minutes
        )

    def report(self) -> None:
        told = not_right.NotRightReport(felt=("left-numb",))
        today = self.clock.now.date()
        not_right.report(self.store, Act(self.clock.now), self.job.ticket_id, told, today)

    def answer(self, advice: str) -> None:
        seen = not_right.standing(self.store, self.job.ticket_id).seen
        day = self.clock.now.date() + timedelta(days=1) if advice == "go-on" else None
        typed = not_right.ShopAnswer(advice, "Come in before you go on.", day, seen)
        not_right.answer(self.store, Act(self.clock.now, 1), self.job.ticket_id, typed)


@pytest.fixture(scope="module")
def walk(new_shop: Path, chromium: Browser, tmp_path_factory: pytest.TempPathFactory) -> Walk:
    """One walk from the counter to the end of the calendar."""
    data_dir = tmp_path_factory.mktemp("hers")
    shutil.copytree(new_shop, data_dir, dirs_exist_ok=True)
    store, clock = open_store(data_dir / "shop.db"), Clock()
    job = make_job(store, Act(clock.now, 1))
    ticket = tickets.get(store, job.ticket_id)
    key = link_token.link_key(data_dir)
    with store.write_tx():
        store.change(
            "tickets",
            ticket.id,
            **link_token.link_hashes(key, ticket),
            link_until="2027-12-31T00:00:00Z",
        )
    settings = {**PHONE, "service_workers": "block", "timezone_id": "America/New_York"}
    context = chromium.new_context(**settings)
    context.add_init_script(SHIFTS)
    page = context.new_page()
    with open_shop(data_dir, clock) as address:
        hers = Hers(store, clock, job, page, f"{address}/c/{link_token.link_token(key, ticket)}")
        _through_every_state(hers)
    context.close()
    store.close()
    return hers.walk


def _through_every_state(hers: Hers) -> None:
    hers.look("at the shop")
    for path in ("offline", "agreed", "mail"):
        hers.look(path, f"/{path}")
    hers.hand_over()
    hers.look("rest before the first")
    hers.clock.on(hours=9)
    hers.look("wear")
    hers.on_a_slow_line("wear, slowly")
    for state, minutes in (("counting", 10), ("forgotten", 240), ("time is up", 31)):
        hers.clock_started(minutes)
        hers.look(state)
    hers.on_a_slow_line("time is up, slowly")
    hers.wear()
    hers.look("rest")
    hers.report()
    hers.look("on hold")
    hers.answer("come-in")
    hers.look("come in")
    hers.answer("go-on")
    hers.look("go on")
    hers.clock.on(days=2)
    hers.look("missed")
    hers.clock.on(days=8)
    hers.look("a week without")
    for _ in range(2):
        hers.wear()
    hers.clock.on(days=1)
    hers.look("ordinary")
    hers.clock.on(days=9)
    hers.look("over")


def test_nothing_moves_while_it_loads(walk: Walk) -> None:
    assert {state: one for state, one in walk.shifted.items() if one[0] > MOST_SHIFT} == {}


def test_whatever_is_touched_is_large_enough_for_a_thumb(walk: Walk) -> None:
    assert {state: found for state, found in walk.small.items() if found} == {}


def test_what_is_read_aloud_comes_in_the_order_it_stands_in(walk: Walk) -> None:
    assert {state: found for state, found in walk.out_of_order.items() if found} == {}
