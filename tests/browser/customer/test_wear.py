"""Her page on her phone: one button counts by the clock and rings; without network it still reads,
and what she wore arrives later.
"""

from __future__ import annotations

from collections.abc import Iterator
from datetime import datetime, timedelta
from pathlib import Path

import pytest
from browser.offline_cast import Pocket, controlled, pocket, until
from playwright.sync_api import Browser, Page
from support.cast import Clock
from support.served_shop import open_shop
from support.ticket_rows import make_job

from fitcounter.desk import shop
from fitcounter.desk.aftercare import wear_calendar
from fitcounter.desk.common import link_token
from fitcounter.desk.common.catch_up import catch_up
from fitcounter.desk.common.state_changes import StepInput
from fitcounter.desk.front_desk import pickup
from fitcounter.store import tickets
from fitcounter.store.database import Act, Store

pytestmark = pytest.mark.browser
RINGS = """window.rung = 0; const plain = AudioContext.prototype.createOscillator;
AudioContext.prototype.createOscillator = function () {
  window.rung += 1; return plain.call(this);
};
window.awake = 0;
navigator.wakeLock.request = async () => {
  window.awake += 1; return { release() { window.awake -= 1; } };
};"""


@pytest.fixture
def ticket_id(store: Store, tmp_path: Path, clock: Clock) -> int:
    """Fetched at ten in the morning in New York; the first wear is this evening at six, which is
    now.
    """
    act = Act(clock.now, 1)
    job = make_job(store, act)
    made = link_token.link_token(link_token.link_key(tmp_path), tickets.get(store, job.ticket_id))
    with store.write_tx():
        store.change(
            "tickets",
            job.ticket_id,
            link_hash=link_token.link_hash(made),
            link_until="2027-12-31T00:00:00Z",
        )
    things = (job.left, job.right, job.bag)
    for item_id in things:
        catch_up(store, act, item_id, "shelved", StepInput(act.at))
    pickup.hand_over(
        store,
        act,
        job.ticket_id,
        pickup.Handover(frozenset(things), act.at, "Marisol", preset="three-short-wears", hour=18),
        shop.read(store),
    )
    clock.on(hours=9)
    return job.ticket_id


@pytest.fixture
def link(store: Store, tmp_path: Path, ticket_id: int) -> str:
    return (
        f"/c/{link_token.link_token(link_token.link_key(tmp_path), tickets.get(store, ticket_id))}"
    )


@pytest.fixture
def hers(chromium: Browser, ticket_id: int, tmp_path: Path, clock: Clock) -> Iterator[Pocket]:
    with (
        open_shop(tmp_path, clock) as address,
        pocket(chromium, address, timezone_id="America/New_York") as held,
    ):
        held.context.add_init_script(RINGS)
        yield held


def worn(store: Store, ticket_id: int, clock: Clock) -> list[tuple[int | None, datetime | None]]:
    """Minutes and start of every wear she told of."""
    plan = wear_calendar.current(store, ticket_id, clock.now).plan
    return [(one.actual_minutes, one.actual_start) for one in plan.wears if one.state == "worn"]


def test_it_sounds_when_the_minutes_are_over(hers: Pocket, link: str, clock: Clock) -> None:
    page = hers.page()
    page.clock.install(time=clock.now)
    page.goto(hers.address + link)
    page.get_by_role("button", name="My boots are on: start the clock").tap()
    assert page.evaluate("window.rung") == 0
    until(page, lambda: bool(page.evaluate("window.awake")))
    page.clock.fast_forward("30:01")
    until(page, lambda: page.evaluate("window.rung") >= 3)
    page.clock.fast_forward("00:04")
    until(page, lambda: page.evaluate("window.rung") >= 6)


def test_worn_too_long_is_said_as_it_was(
    hers: Pocket, link: str, store: Store, ticket_id: int, clock: Clock
) -> None:
    """Forty-two minutes are forty-two minutes; when time is up the screen says one thing, with one
    button beside the way to say that it hurts.
    """
    page = hers.page()
    page.clock.install(time=clock.now)
    page.goto(hers.address + link)
    page.get_by_role("button", name="My boots are on: start the clock").tap()
    page.clock.fast_forward("42:00")
    until(page, lambda: page.input_value("[name=minutes]") == "42")
    assert page.locator("section.today > :visible").count() == 3
    assert page.get_by_role("heading", level=1).inner_text() == "Take your boots off now"
    clock.on(minutes=42)
    with page.expect_navigation():
        page.get_by_role("button", name="They are off").tap()
    assert [minutes for minutes, _ in worn(store, ticket_id, clock)] == [42]


def test_her_page_reads_without_network_and_what_she_wore_arrives_later(
    hers: Pocket, link: str, store: Store, ticket_id: int, clock: Clock
) -> None:
    """Opened once, it reads whole in the cellar; two hours later the shop has the wear with the
    hour it really was.
    """
    page = hers.page(link)
    controlled(page)
    page.reload()
    hers.context.set_offline(True)
    page.goto(hers.address + link)
    assert (
        page.get_by_role("heading", level=1).inner_text() == "Today, wear your boots for 30 minutes"
    )
    assert "When to stop" in page.content()
    assert page.evaluate("getComputedStyle(document.body).backgroundColor") in (
        "rgb(231, 225, 209)",
        "rgb(25, 23, 19)",
    )
    page.get_by_text("I wore them today").tap()
    page.fill("[name=minutes]", "30")
    page.get_by_role("button", name="Save what I wore").tap()
    page.get_by_text("Saved on this phone").wait_for()
    assert worn(store, ticket_id, clock) == []
    page.reload()
    page.get_by_text("Saved on this phone").wait_for()
    assert not page.get_by_role("button", name="My boots are on").is_visible()

    _two_hours_pass(hers, page)
    ended = clock.now
    clock.on(hours=2)
    hers.context.set_offline(False)
    until(page, lambda: not hers.kept(page))
    page.get_by_text("The shop has your answer.").wait_for()
    ((minutes, started),) = worn(store, ticket_id, clock)
    assert minutes == 30
    assert started is not None
    assert abs(ended - timedelta(minutes=30) - started) < timedelta(minutes=1)


def _two_hours_pass(hers: Pocket, page: Page) -> None:
    """The row that waits, as if it had been saved two hours ago."""
    (row,) = hers.kept(page)
    page.evaluate(
        "async (row) => (await"
        " import(document.querySelector('script[src*=\"offline_count.js\"]')"
        ".src.replace('offline_count.js',"
        " 'offline_store.js'))).change(row)",
        {**row, "at": row["at"] - 2 * 3600 * 1000},
    )
