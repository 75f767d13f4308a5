"""Phones that lose the network, and a server that can be killed: what the tests without network
have in common.
"""

from __future__ import annotations

import socket
import socketserver
import subprocess
import sys
import threading
import time
import urllib.request
from collections.abc import Callable, Iterator
from contextlib import contextmanager, suppress
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

from browser.conftest import PHONE
from browser.let_in import let_in
from browser.warm_server import WarmServer
from playwright.sync_api import Browser, BrowserContext, Page
from support.cast import PASSPHRASE

from fitcounter.serving import server

QUEUED = (
    "async () => (await (await"
    " import(document.querySelector('script[src*=\"offline_count.js\"]')"
    ".src.replace('offline_count.js',"
    " 'offline_store.js'))).all())"
)


@dataclass
class Shelf:
    """The server as its own process, on one address for the whole test."""

    data_dir: Path
    port: int
    server: WarmServer | ColdServer
    running: int | None = None

    @property
    def address(self) -> str:
        return f"http://localhost:{self.port}"

    def start(self) -> None:
        self.running = self.server.start(self.data_dir, self.port)
        for _ in range(1200):
            with suppress(OSError):
                urllib.request.urlopen(f"{self.address}/offline", timeout=5).close()
                return
            time.sleep(0.05)
        self.kill()
        raise AssertionError("the server did not open")

    def kill(self) -> None:
        if self.running is not None:
            self.server.kill(self.running)
            self.running = None


class ColdServer:
    """The command of one checkout, started from nothing each time."""

    def __init__(self, checkout: Path) -> None:
        self.checkout = checkout

    def start(self, data_dir: Path, port: int) -> int:
        # the command itself, without the set-up in front of it: the packages are those of the tests
        run = "import sys; from fitcounter.cli.main import main; sys.exit(main(sys.argv[1:]))"
        command = [sys.executable, "-c", run, "serve", "--data", str(data_dir), "--port", str(port)]
        self.program = subprocess.Popen(command, cwd=self.checkout, stdout=subprocess.DEVNULL)
        return self.program.pid

    def kill(self, _child: int) -> None:
        self.program.kill()
        self.program.wait()


@contextmanager
def own_server(data_dir: Path, how: WarmServer | ColdServer) -> Iterator[Shelf]:
    shelf = Shelf(data_dir, server.free_port("127.0.0.1", 0), how)
    shelf.start()
    try:
        yield shelf
    finally:
        shelf.kill()


class Meter:
    """A wire to the server that counts the bytes that come down it, headers and all, whoever on the
    phone asked for them.
    """

    def __init__(self, port: int) -> None:
        self.down = 0
        meter = self

        class Relay(socketserver.BaseRequestHandler):
            def handle(self) -> None:
                with socket.create_connection(("127.0.0.1", port)) as above:
                    up = threading.Thread(
                        target=pump, args=(self.request, above, False), daemon=True
                    )
                    up.start()
                    pump(above, self.request, True)

        def pump(source: socket.socket, sink: socket.socket, counted: bool) -> None:
            with suppress(OSError):
                while content := source.recv(65536):
                    meter.down += len(content) if counted else 0
                    sink.sendall(content)
            with suppress(OSError):
                sink.shutdown(socket.SHUT_WR)

        self.relay = socketserver.ThreadingTCPServer(("127.0.0.1", 0), Relay)
        self.relay.daemon_threads = True
        self.address = f"http://localhost:{self.relay.server_address[1]}"

    def __enter__(self) -> Meter:
        threading.Thread(target=self.relay.serve_forever, daemon=True).start()
        return self

    def __exit__(self, *_: object) -> None:
        self.relay.shutdown()
        self.relay.server_close()


@dataclass
class Pocket:
    """A shop's phone: one browser context, whose pages share what they keep.

    Script errors are collected.
    """

    context: BrowserContext
    address: str
    scripts: bool = True
    errors: list[str] = field(default_factory=list)

    def page(self, path: str = "") -> Page:
        page = self.context.new_page()
        page.on("pageerror", lambda error: self.errors.append(f"{page.url}: {error}"))
        if path:
            page.goto(self.address + path)
        return page

    def sign_in(self, initials: str, page: Page | None = None) -> Page:
        """With the form of this page; by itself on a new page, which is left when the worker has
        begun: Chromium was seen to wait for ever for one whose page was left too soon.
        """
        if page is None:
            let_in(self.context, self.address, initials)
            page = self.page("/")
            if self.scripts:
                controlled(page)
            return page
        page.fill("[name=initials]", initials)
        page.fill("[name=passphrase]", PASSPHRASE)
        with page.expect_navigation():
            page.get_by_role("button", name="Sign in").tap()
        return page

    def kept(self, page: Page) -> list[dict[str, Any]]:
        """What waits on the phone, in its order."""
        rows: list[dict[str, Any]] = page.evaluate(f"({QUEUED})()")
        return rows


def controlled(page: Page) -> None:
    """Waits until the service worker has the shell and answers for this page."""
    until(page, lambda: bool(page.evaluate("navigator.serviceWorker.controller !== null")))


@contextmanager
def pocket(chromium: Browser, address: str, **settings: Any) -> Iterator[Pocket]:
    context = chromium.new_context(**{**PHONE, **settings})
    held = Pocket(context, address, settings.get("java_script_enabled", True))
    yield held
    context.close()
    assert not held.errors, held.errors


def until(page: Page, true: Callable[[], bool], seconds: float = 60) -> None:
    """Lets the page run until something is true."""
    for _ in range(int(seconds * 20)):
        if true():
            return
        page.wait_for_timeout(50)
    raise AssertionError("it did not come true")


def see(page: Page, note: str) -> None:
    """One thing seen on the boot whose page is open."""
    page.locator("[name=word]").first.check(force=True)
    page.fill("[name=note]", note)
    page.locator("details.step form button.next").tap()


def keep(page: Page, row: dict[str, object]) -> None:
    """Puts a row among what waits, as it is, in place of the one with its number."""
    app = "document.querySelector('script[src*=\"offline_count.js\"]').src"
    store = f"{app}.replace('offline_count.js', 'offline_store.js')"
    page.evaluate(f"async (row) => (await import({store})).change(row)", row)
