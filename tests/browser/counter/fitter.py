"""A fitter who measures by the tape's keys, and counts the taps."""

from __future__ import annotations

from collections.abc import Callable

from playwright.sync_api import Page

Open = Callable[..., Page]


class Fitter:
    """Taps as a fitter does, and counts them."""

    def __init__(self, page: Page) -> None:
        self.page = page
        self.taps = 0

    def tap(self, selector: str) -> None:
        self.taps += 1
        self.page.locator(selector).tap()

    def read(self, whole: int, part: str) -> None:
        self.tap(f'[data-pad] [data-whole="{whole}"]')
        self.tap(f'[data-pad] [data-part="{part}"]')

    def value(self, name: str) -> str:
        return self.page.locator(f'[name="{name}"]').input_value()

    @property
    def at(self) -> str:
        return self.page.locator("[data-label]").inner_text()

    @property
    def slip(self) -> str | None:
        slip = self.page.locator("[data-slip]")
        return slip.locator("p").inner_text() if slip.is_visible() else None


LEFT = ((9, "5/8"), (11, "0"), (13, "3/8"), (15, "1/2"), (16, "1/4"), (15, "1/8"))
