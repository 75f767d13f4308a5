"""Her page in WebKit, whose engine iPhones have: it draws, its clock runs by the time of day and
survives a reload, what she wore is saved, boots stay off, the zone is asked about, the page to save
counts, and after one visit all of it works without network. By plain calls of the WebDriver
standard, so that no package is needed; slow, and left out where no WebKitWebDriver is installed. Of
the home screen only what it is given is looked at: no WebKit but an iPhone's puts a page there. Nor
is push, which this WebKit has not, nor a locked screen, a clock that is wrong, or printing.
"""

from __future__ import annotations

import json
import os
import shutil
import subprocess
import time
import urllib.request
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta
from pathlib import Path
from typing import Any
from zoneinfo import ZoneInfo

import pytest
from support.cast import Clock
from support.served_shop import open_shop
from support.ticket_rows import Job, make_job

from fitcounter.desk import shop
from fitcounter.desk.aftercare import wear_calendar
from fitcounter.desk.common import link_token
from fitcounter.desk.common.catch_up import catch_up
from fitcounter.desk.common.state_changes import StepInput
from fitcounter.desk.front_desk import pickup
from fitcounter.serving import server
from fitcounter.store import tickets
from fitcounter.store.database import Act, Store

BROWSERS = (
    "/usr/lib/x86_64-linux-gnu/webkit2gtk-4.1/MiniBrowser",
    "/usr/lib/aarch64-linux-gnu/webkit2gtk-4.1/MiniBrowser",
)
DRIVER, SCREEN = shutil.which("WebKitWebDriver"), shutil.which("xvfb-run")
BROWSER = next((one for one in BROWSERS if Path(one).exists()), None)
pytestmark = [
    pytest.mark.browser,
    pytest.mark.slow,
    pytest.mark.skipif(
        not (DRIVER and SCREEN and BROWSER),
        reason="no WebKitWebDriver here: install the packages webkit2gtk-driver, xvfb and xauth",
    ),
]
FIND = """return [...document.querySelectorAll('button')]
  .find((one) => one.checkVisibility() && one.textContent.includes(arguments[0]))"""


@dataclass
class WebKit:
    """One session of the driver."""

    address: str
    session: str = ""

    def ask(self, path: str, **body: Any) -> Any:
        wanted = urllib.request.Request(
            f"{self.address}/session{self.session}{path}",
            json.dumps(body).encode(),
            {"Content-Type": "application/json"},
        )
        with urllib.request.urlopen(wanted, timeout=60) as answer:
            return json.load(answer)["value"]

    def open(self, address: str) -> None:
        self.ask("/url", url=address)

    def run(self, script: str, *values: object) -> Any:
        return self.ask("/execute/sync", script=script, args=list(values))

    def wait(self, script: str) -> Any:
        """What the script gives to `done`."""
        asked = f"const done = arguments[0]; {script}"
        return self.ask("/execute/async", script=asked, args=[])

    def text(self) -> str:
        return str(self.run("return document.body.innerText"))

    def press(self, words: str) -> None:
        found = self.run(FIND, words)
        assert found, f"no button: {words}\n{self.text()}"
        (element,) = found.values()
        self.ask(f"/element/{element}/click")

    def until(self, words: str) -> None:
        for _ in range(100):
            if words in self.text():
                return
            time.sleep(0.1)
        raise AssertionError(f"not said: {words}\n{self.text()}")


@contextmanager
def webkit(zone: str = "America/New_York") -> Iterator[WebKit]:
    """zone: of the phone's clock."""
    port = server.free_port("127.0.0.1", 0)
    command = [str(SCREEN), "-a", str(DRIVER), f"--port={port}"]
    running = subprocess.Popen(command, env={**os.environ, "TZ": zone}, start_new_session=True)
    made = WebKit(f"http://127.0.0.1:{port}")
    options = {"binary": BROWSER, "args": ["--automation"]}
    always = {"alwaysMatch": {"webkitgtk:browserOptions": options}}
    try:
        for _ in range(200):
            with suppress(OSError):
                urllib.request.urlopen(f"{made.address}/status", timeout=5).close()
                break
            time.sleep(0.1)
        made.session = "/" + made.ask("", capabilities=always)["sessionId"]
        yield made
    finally:
        with suppress(OSError):
            wanted = urllib.request.Request(
                f"{made.address}/session{made.session}", method="DELETE"
            )
            urllib.request.urlopen(wanted, timeout=20).close()
        os.killpg(running.pid, 15)
        running.wait(20)


@pytest.fixture
def clock() -> Clock:
    """By the real time, which no driver of the standard can move; she wears them when she likes."""
    return Clock(datetime.now(UTC) - timedelta(hours=30))


@pytest.fixture
def job(store: Store, clock: Clock) -> Job:
    made = make_job(store, Act(clock.now, 1))
    for item_id in (made.left, made.right, made.bag):
        catch_up(store, Act(clock.now, 1), item_id, "shelved", StepInput(clock.now))
    return made


@pytest.fixture
def path(store: Store, tmp_path: Path, job: Job) -> str:
    """Of her page."""
    ticket, key = tickets.get(store, job.ticket_id), link_token.link_key(tmp_path)
    with store.write_tx():
        until = "2099-12-31T00:00:00Z"
        store.change("tickets", ticket.id, **link_token.link_hashes(key, ticket), link_until=until)
    return f"/c/{link_token.link_token(key, ticket)}"


def hand_over(store: Store, job: Job, clock: Clock) -> None:
    """Thirty hours ago; the wear is due since an hour."""
    hour = (datetime.now(ZoneInfo(shop.read(store).zone)) - timedelta(hours=1)).hour
    things = frozenset((job.left, job.right, job.bag))
    handed = pickup.Handover(things, clock.now, "Marisol", preset="three-short-wears", hour=hour)
    pickup.hand_over(store, Act(clock.now, 1), job.ticket_id, handed, shop.read(store))
    clock.now = datetime.now(UTC)


def test_her_page_in_webkit_counts_survives_a_reload_and_saves(
    store: Store, tmp_path: Path, clock: Clock, job: Job, path: str
) -> None:
    with open_shop(tmp_path, clock) as address, webkit() as phone:
        _looks_whole(phone, address + path, "your boots")
        hand_over(store, job, clock)
        _looks_whole(phone, address + path, "wear your boots for 30 minutes")
        _the_clock(phone, address + path)
        plan = wear_calendar.current(store, job.ticket_id, datetime.now(UTC)).plan
        assert [one.actual_minutes for one in plan.wears if one.state == "worn"] == [30]
        _looks_whole(phone, address + path, "Let your boots rest until")


def test_her_page_in_webkit_works_without_network_after_one_visit(
    store: Store, tmp_path: Path, clock: Clock, job: Job, path: str
) -> None:
    """The shop cannot be reached: the page reads, its clock counts through a reload, and what was
    worn waits on the phone. What the home screen is given opens this very page.
    """
    hand_over(store, job, clock)
    with webkit() as phone:
        with open_shop(tmp_path, clock) as address:
            _looks_whole(phone, address + path, "wear your boots for 30 minutes")
            phone.run("window.held = navigator.serviceWorker.ready.then(() => caches.keys())")
            assert phone.wait("window.held.then(done)")
            manifest = phone.wait(
                "fetch(document.querySelector('link[rel=manifest]').href)"
                ".then((answer) => answer.json()).then(done)"
            )
            assert (manifest["name"], manifest["start_url"], manifest["scope"]) == (
                "My boots",
                path,
                path,
            )
        _looks_whole(phone, address + path, "wear your boots for 30 minutes")
        phone.run("window.confirm = () => true")
        phone.press("My boots are on: start the clock")
        phone.until("They come off at")
        phone.open(address + path)
        phone.until("They come off at")
        phone.press("Save what I wore")
        phone.until("Saved on this phone.")
        phone.open(address + path)
        phone.until("Saved on this phone.")
    plan = wear_calendar.current(store, job.ticket_id, datetime.now(UTC)).plan
    assert not [one for one in plan.wears if one.state == "worn"]


def test_boots_stay_off_in_webkit_and_the_page_to_save_counts(
    store: Store, tmp_path: Path, clock: Clock, job: Job, path: str
) -> None:
    """On a phone in Madrid, which is asked about; what hurts holds the page without network."""
    hand_over(store, job, clock)
    with webkit("Europe/Madrid") as phone:
        with open_shop(tmp_path, clock) as address:
            _looks_whole(phone, address + path, "wear your boots for 30 minutes")
            phone.until("You seem to be in Madrid: use that time?")
            phone.run("window.held = navigator.serviceWorker.ready.then(() => caches.keys())")
            assert phone.wait("window.held.then(done)")
            _page_to_save(phone, f"{address}{path}/calendar.html", tmp_path / "boots.html")
        _looks_whole(phone, address + path, "wear your boots for 30 minutes")
        phone.run("document.querySelector('[value=left-numb]').click()")
        phone.until("Emergency: call 911")
        phone.press("Tell the shop")
        for _ in range(2):
            phone.until("Boots off until the shop has answered.")
            phone.run("document.dispatchEvent(new Event('visibilitychange'))")
            assert "start the clock" not in phone.text()
            phone.open(address + path)
        phone.open(f"{address}{path}/agreed")
        phone.until("Prices and papers are not kept on this phone.")


def _page_to_save(phone: WebKit, address: str, file: Path) -> None:
    """As a file, and opened as an iPhone prints it."""
    wanted = urllib.request.Request(address, headers={"User-Agent": "Mozilla/5.0 (iPhone)"})
    with urllib.request.urlopen(wanted, timeout=30) as answer:
        assert answer.headers["Content-Disposition"].startswith("inline")
        file.write_bytes(answer.read())
    phone.open(file.as_uri())
    phone.until("The days may have moved since")
    assert phone.run("return getComputedStyle(document.querySelector('.row')).position") != "static"
    phone.press("My boots are on: start the clock")
    phone.until("They come off at")
    assert phone.run("return document.querySelector('[data-count]').innerText") in (
        "30:00",
        "29:59",
    )


def _looks_whole(phone: WebKit, hers: str, heading: str) -> None:
    phone.open(hers)
    assert heading in phone.run("return document.querySelector('h1').innerText")
    assert phone.run("return document.documentElement.scrollWidth <= innerWidth")
    assert phone.run("return getComputedStyle(document.body).backgroundColor") != "rgba(0, 0, 0, 0)"


def _the_clock(phone: WebKit, hers: str) -> None:
    """Started, there after a reload, over when its minutes are; then the boots come off."""
    phone.run("window.confirm = () => true")
    phone.press("My boots are on: start the clock")
    phone.until("They come off at")
    phone.open(hers)
    phone.until("They come off at")
    phone.run(
        "const key = Object.keys(localStorage).find((one) => one.startsWith('wear '));"
        " localStorage.setItem(key, String(Number(localStorage.getItem(key)) - 31 * 60000));"
    )
    phone.open(hers)
    phone.until("Take your boots off now")
    phone.press("They are off")
    phone.until("Now let your boots rest.")
