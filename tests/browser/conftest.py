"""One Chromium for all browser tests, and a page that fails the test on any error in its console."""

from __future__ import annotations

import ctypes
import shutil
from collections.abc import Callable, Iterator
from typing import Any

import pytest
from playwright.sync_api import Browser, BrowserContext, Page, sync_playwright

PHONE: dict[str, Any] = {"viewport": {"width": 360, "height": 780}, "has_touch": True, "is_mobile": True, "device_scale_factor": 2}
DESK: dict[str, Any] = {"viewport": {"width": 1280, "height": 900}}


@pytest.fixture(scope="session")
def chromium() -> Iterator[Browser]:
    path = shutil.which("chromium") or shutil.which("chromium-browser") or shutil.which("google-chrome")
    if path is None:
        pytest.skip("no Chromium on this machine: install the package chromium to run the browser tests")
    try:
        ctypes.CDLL("libatomic.so.1")
    except OSError:
        pytest.skip("what drives Chromium cannot start on this machine: install the package libatomic1 to run the browser tests")
    with sync_playwright() as playwright:
        browser = playwright.chromium.launch(executable_path=path, args=["--no-sandbox", "--disable-dev-shm-usage"])
        yield browser
        browser.close()


@pytest.fixture
def open_page(chromium: Browser) -> Iterator[Callable[..., Page]]:
    """Opens a page of its own context: open_page(address, **settings of the context). Console errors fail the test at its end."""
    contexts: list[BrowserContext] = []
    complaints: list[str] = []

    def make(address: str, **settings: Any) -> Page:
        context = chromium.new_context(**{**PHONE, **settings})
        contexts.append(context)
        page = context.new_page()
        page.on("console", lambda said: complaints.append(f"{page.url}: {said.text}") if said.type in ("error", "warning") else None)
        page.on("pageerror", lambda error: complaints.append(f"{page.url}: {error}"))
        page.goto(address)
        return page

    yield make
    for context in contexts:
        context.close()
    assert not complaints, complaints
