"""A page that fails the test on any error in its console."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from pathlib import Path
from typing import TYPE_CHECKING, Any

import pytest
from playwright.sync_api import Browser, BrowserContext, ConsoleMessage, Page

from fitcounter.store.database import Store

if TYPE_CHECKING:
    from browser.offline_cast import Pocket, Shelf

PHONE: dict[str, Any] = {
    "viewport": {"width": 360, "height": 780},
    "has_touch": True,
    "is_mobile": True,
    "device_scale_factor": 2,
}
DESK: dict[str, Any] = {"viewport": {"width": 1280, "height": 900}}


def _complains(said: ConsoleMessage) -> bool:
    """That a test keeps the service worker away is no complaint of the page's."""
    return (
        said.type in ("error", "warning") and "registration blocked by Playwright" not in said.text
    )


@pytest.fixture
def open_page(chromium: Browser) -> Iterator[Callable[..., Page]]:
    """Opens a page of its own context: open_page(address, **settings of the context).

    Console errors fail the test at its end.
    """
    contexts: list[BrowserContext] = []
    complaints: list[str] = []

    def make(address: str, **settings: Any) -> Page:
        context = chromium.new_context(**{**PHONE, **settings})
        contexts.append(context)
        page = context.new_page()
        page.on(
            "console",
            lambda said: (
                complaints.append(f"{page.url}: {said.text}") if _complains(said) else None
            ),
        )
        page.on("pageerror", lambda error: complaints.append(f"{page.url}: {error}"))
        page.goto(address)
        return page

    yield make
    for context in contexts:
        context.close()
    assert not complaints, complaints


@pytest.fixture
def shelf(store: Store, tmp_path: Path) -> Iterator[Shelf]:
    """The server as its own process, which can be killed."""
    from browser.offline_cast import own_server  # which takes the phone's size from here

    with own_server(tmp_path) as opened:
        yield opened


@pytest.fixture
def phone(chromium: Browser, shelf: Shelf) -> Iterator[Pocket]:
    from browser.offline_cast import pocket

    with pocket(chromium, shelf.address) as held:
        yield held
