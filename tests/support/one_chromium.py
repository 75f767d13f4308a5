"""One Chromium for all browser tests of a worker, started anew where it no longer answers."""

from __future__ import annotations

import os
import shutil
import signal
import threading
from typing import Any

from playwright.sync_api import Browser, BrowserContext, BrowserType, Error, Playwright

from fitcounter.first_run.system_packages import BROWSERS

LONGEST_CLOSE_S = 15.0  # one that answers took two at most, with four workers at work


def browser_path() -> str | None:
    """The Chromium that runs the browser tests; None where there is none."""
    return next(filter(None, map(shutil.which, BROWSERS)), None)


class OneChromium:
    """Contexts of one browser.

    Once in many runs a Chromium never answers that a context is closed, and the run would never
    end: it is killed after a while, the test that closed has passed already, and the next one gets
    a new browser.
    """

    def __init__(self, playwright: Playwright, path: str) -> None:
        self.browser_type: BrowserType = playwright.chromium
        self._path = path
        self._start()

    def _start(self) -> None:
        self._browser: Browser = self.browser_type.launch(
            executable_path=self._path, args=["--no-sandbox", "--disable-dev-shm-usage"]
        )
        told = self._browser.new_browser_cdp_session().send("SystemInfo.getProcessInfo")
        self._pid = next(one["id"] for one in told["processInfo"] if one["type"] == "browser")

    def new_context(self, **settings: Any) -> BrowserContext:
        if not self._browser.is_connected():
            self._start()
        context = self._browser.new_context(**settings)
        close = context.close
        context.close = lambda **how: self._bounded(close, **how)  # type: ignore[method-assign]
        return context

    def close(self) -> None:
        self._bounded(self._browser.close)

    def _bounded(self, close: Any, **how: Any) -> None:
        timer = threading.Timer(LONGEST_CLOSE_S, os.kill, (self._pid, signal.SIGKILL))
        timer.start()
        try:
            close(**how)
        except Error:
            if self._browser.is_connected():
                raise
        finally:
            timer.cancel()
