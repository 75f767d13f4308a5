"""A page that fails the test on any error in its console; a server that can be killed, with a
phone; and a hand that counts in a shop with one job.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from pathlib import Path
from typing import TYPE_CHECKING, Any

import pytest
from browser.hand import Hand
from browser.warm_server import WarmServer
from playwright.sync_api import Browser, BrowserContext, ConsoleMessage, Error, Page
from support.cast import Clock
from support.served_shop import open_shop
from support.ticket_rows import Job, make_job

from fitcounter.store import tags
from fitcounter.store.database import Act, Store

if TYPE_CHECKING:
    from browser.offline_cast import Pocket, Shelf

PHONE: dict[str, Any] = {
    "viewport": {"width": 360, "height": 780},
    "has_touch": True,
    "is_mobile": True,
    "device_scale_factor": 2,
}
DESK: dict[str, Any] = {"viewport": {"width": 1280, "height": 900}}


@pytest.hookimpl(tryfirst=True)
def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    """What is asked of a customer's phone in two languages is asked in turns: of what a test is
    given, one half in English and the other in Spanish, with network and without. The rest is slow.
    """
    seen: dict[str, list[tuple[object, ...]]] = {}
    for item in items:
        if "phones" not in getattr(item, "fixturenames", ()) or not hasattr(item, "callspec"):
            continue
        given = dict(item.callspec.params)
        language = given.pop("their", None) or given.pop("language", None)
        told = seen.setdefault(item.nodeid.partition("[")[0], [])
        if (one := tuple(given.values())) not in told:
            told.append(one)
        if language != ("en", "es")[(len(seen) + told.index(one)) % 2]:
            item.add_marker(pytest.mark.slow)


def complains(said: ConsoleMessage) -> bool:
    """That a test keeps the service worker away is no complaint of the page's."""
    return (
        said.type in ("error", "warning") and "registration blocked by Playwright" not in said.text
    )


@pytest.fixture
def open_page(chromium: Browser) -> Iterator[Callable[..., Page]]:
    """Opens a page of its own context: open_page(address, **settings of the context).

    Console errors fail the test at its end. No service worker runs in it, which takes a fifth of
    opening a page; what it does is asked of the phones of offline_cast and wear_cast.
    """
    contexts: list[BrowserContext] = []
    complaints: list[str] = []

    def make(address: str, **settings: Any) -> Page:
        context = chromium.new_context(**{**PHONE, "service_workers": "block", **settings})
        contexts.append(context)
        page = context.new_page()
        page.on(
            "console",
            lambda said: complaints.append(f"{page.url}: {said.text}") if complains(said) else None,
        )
        page.on("pageerror", lambda error: complaints.append(f"{page.url}: {error}"))
        page.goto(address)
        return page

    yield make
    for context in contexts:
        context.close()
    assert not complaints, complaints


CLEARED = """async () => {
  localStorage.clear();
  sessionStorage.clear();
  for (const { name } of await indexedDB.databases()) indexedDB.deleteDatabase(name);
}"""


def _leave(page: Page, plain: str) -> None:
    """Goes where no script runs. A test may end with a form on its way: its answer, which comes
    once, interrupts the first going."""
    try:
        page.goto(plain)
    except Error as error:
        if "interrupted by another navigation" not in error.message:
            raise
        page.wait_for_load_state()
        page.goto(plain)


@pytest.fixture(scope="module")
def tabs(chromium: Browser) -> Iterator[dict[str, tuple[Page, list[str]]]]:
    """What same_page has open: a tab and its console's errors by the settings of its context."""
    opened: dict[str, tuple[Page, list[str]]] = {}
    yield opened
    for page, _ in opened.values():
        page.context.close()


@pytest.fixture
def same_page(
    chromium: Browser, tabs: dict[str, tuple[Page, list[str]]]
) -> Iterator[Callable[..., Page]]:
    """As open_page, in the tab that the tests before had with the same settings, emptied of what
    they kept: a context of its own takes three times as long. No service worker runs in it:
    Chromium was seen to wait for ever for one that had just begun when a page was left.
    """
    used: list[tuple[Page, list[str]]] = []
    address_of: dict[Page, str] = {}

    def make(address: str, **settings: Any) -> Page:
        key = repr(sorted(settings.items()))
        if key not in tabs or tabs[key][0].is_closed():  # its Chromium was killed
            context = chromium.new_context(**{**PHONE, "service_workers": "block", **settings})
            page, complaints = context.new_page(), []
            page.on("console", lambda said: complaints.append(said.text) if complains(said) else 0)
            page.on("pageerror", lambda error: complaints.append(str(error)))
            tabs[key] = page, complaints
        used.append(tabs[key])
        page = used[-1][0]
        page.set_viewport_size({**PHONE, **settings}["viewport"])
        page.emulate_media(media="null")
        address_of[page] = address
        page.goto(address)
        return page

    yield make
    found = [text for _, complaints in used for text in complaints]
    for page, complaints in used:
        complaints.clear()
        _leave(page, "/".join([*address_of[page].split("/")[:3], "static", "app.css"]))
        page.evaluate(CLEARED)
        page.context.clear_cookies()
    assert not found, found


@pytest.fixture(scope="session")
def warm_server() -> Iterator[WarmServer]:
    parent = WarmServer()
    yield parent
    parent.close()


@pytest.fixture
def shelf(store: Store, tmp_path: Path, warm_server: WarmServer) -> Iterator[Shelf]:
    """The server as its own process, which can be killed."""
    from browser.offline_cast import own_server  # which takes the phone's size from here

    with own_server(tmp_path, warm_server) as opened:
        yield opened


@pytest.fixture
def phone(chromium: Browser, shelf: Shelf) -> Iterator[Pocket]:
    from browser.offline_cast import pocket

    with pocket(chromium, shelf.address) as held:
        yield held


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
def doors(store: Store, codes: dict[int, str], tmp_path: Path, clock: Clock) -> Iterator[str]:
    """The address of the shop with one job; open until its page was left."""
    with open_shop(tmp_path, clock) as address:
        yield address


@pytest.fixture
def hand(doors: str, same_page: Callable[..., Page]) -> Hand:
    return Hand.signed_in(same_page(f"{doors}/static/app.css"), doors)
