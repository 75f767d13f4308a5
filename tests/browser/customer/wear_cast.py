"""One shop for a whole file of tests, and the phones of its customers: one that speaks English and
one that speaks Spanish, with a ticket of its own for each test.
"""

from __future__ import annotations

import shutil
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field
from datetime import UTC, datetime
from pathlib import Path
from typing import Any

from browser.conftest import CLEARED, PHONE
from browser.customer.their_phone import LOCALES, ZONE, Line, Theirs
from playwright.sync_api import Browser, BrowserContext
from support.served_shop import open_shop
from support.ticket_rows import Job, make_job

from fitcounter.desk import shop
from fitcounter.desk.common import link_token
from fitcounter.desk.common.translation import speech_at
from fitcounter.store import tickets
from fitcounter.store.database import Act, Store
from fitcounter.store.opening import open_store

TEN_AM = datetime(2026, 3, 17, 14, 0, tzinfo=UTC)  # a Tuesday, on the shop's clock


@dataclass
class Doors:
    """The shop, open for a whole file of tests."""

    store: Store
    clock: Line
    data_dir: Path
    address: str

    def ticket(self) -> tuple[Job, str]:
        """A new customer's, with the path of their page."""
        job = make_job(self.store, Act(self.clock.now, 1))
        ticket, key = tickets.get(self.store, job.ticket_id), link_token.link_key(self.data_dir)
        with self.store.write_tx():
            self.store.change(
                "tickets",
                ticket.id,
                **link_token.link_hashes(key, ticket),
                link_until="2027-12-31T00:00:00Z",
            )
        return job, f"/c/{link_token.link_token(key, ticket)}"


@contextmanager
def open_doors(new_shop: Path, data_dir: Path) -> Iterator[Doors]:
    shutil.copytree(new_shop, data_dir, dirs_exist_ok=True)
    store, clock = open_store(data_dir / "shop.db"), Line(TEN_AM)
    shop.choose(store, Act(clock.now, 1), address="12 Quill Lane, Quillmarsh")
    with open_shop(data_dir, clock) as address:
        yield Doors(store, clock, data_dir, address)
    store.close()


@dataclass
class Phones:
    """A phone of each language, and the shop to which all of them belong."""

    chromium: Browser
    doors: Doors
    contexts: dict[str, BrowserContext] = field(default_factory=dict)

    def phone(self, language: str, **settings: Any) -> BrowserContext:
        key = f"{language} {settings}"
        if key not in self.contexts:
            usual = {"timezone_id": ZONE, "locale": LOCALES[language], "reduced_motion": "reduce"}
            made = self.chromium.new_context(**{**PHONE, **usual, **settings})
            self.contexts[key] = made
        return self.contexts[key]

    @contextmanager
    def customer(self, language: str, **settings: Any) -> Iterator[Theirs]:
        """A new customer with a new tab of this phone, which forgets all of it afterwards."""
        doors, context = self.doors, self.phone(language, **settings)
        doors.clock.now = TEN_AM
        job, path = doors.ticket()
        page = context.new_page()
        words = speech_at(shop.read(doors.store), language)
        made = Theirs(
            doors.store, doors.clock, doors.data_dir, doors.address, page, words, job, path
        )
        page.on("pageerror", lambda error: made.complaints.append(f"{page.url}: {error}"))
        yield made
        context.set_offline(False)
        context.clear_cookies()
        page.goto(f"{doors.address}/static/app.css")
        page.evaluate(CLEARED)
        page.evaluate(FORGOTTEN)
        page.close()
        assert not made.complaints, made.complaints


@contextmanager
def their_phones(chromium: Browser, new_shop: Path, data_dir: Path) -> Iterator[Phones]:
    with open_doors(new_shop, data_dir) as doors:
        made = Phones(chromium, doors)
        yield made
        for context in made.contexts.values():
            context.close()


FORGOTTEN = """async () => {
  for (const one of await navigator.serviceWorker.getRegistrations()) await one.unregister();
  for (const name of await caches.keys()) await caches.delete(name);
}"""
