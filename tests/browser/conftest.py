"""A page that fails the test on any error in its console."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from contextlib import suppress
from typing import Any

import pytest
from playwright.sync_api import Browser, BrowserContext, Error, Page

PHONE: dict[str, Any] = {"viewport": {"width": 360, "height": 780}, "has_touch": True, "is_mobile": True, "device_scale_factor": 2}
DESK: dict[str, Any] = {"viewport": {"width": 1280, "height": 900}}


def leave(context: BrowserContext) -> None:
    """Closes it once its pages have come: Chromium was seen to wait for ever where one was still on its way."""
    for page in context.pages:
        with suppress(Error):  # one that will not come at all is no reason to wait longer
            page.wait_for_load_state(timeout=5000)
    context.close()


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
        leave(context)
    assert not complaints, complaints
