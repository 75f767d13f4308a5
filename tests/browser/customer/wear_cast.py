"""One shop for a whole file of tests, and the phones of its customers: one that speaks English and
one that speaks Spanish, with a ticket of its own for each test.
"""

from __future__ import annotations

import shutil
import threading
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field
from datetime import UTC, date, datetime, timedelta
from pathlib import Path
from typing import Any

from browser.conftest import CLEARED, PHONE
from browser.offline_cast import QUEUED, controlled, until
from playwright.sync_api import Browser, BrowserContext, Locator, Page, Response
from support.cast import Clock
from support.served_shop import open_shop
from support.ticket_rows import Job, make_job

from fitcounter.desk import shop
from fitcounter.desk.aftercare import not_right, wear_calendar
from fitcounter.desk.common import link_token
from fitcounter.desk.common.catch_up import catch_up
from fitcounter.desk.common.state_changes import StepInput
from fitcounter.desk.common.translation import Speech, speech_at
from fitcounter.desk.front_desk import pickup
from fitcounter.fit.wear.wear import Wear
from fitcounter.store import tickets
from fitcounter.store.database import Act, Store
from fitcounter.store.opening import open_store

ZONE = "America/New_York"
LOCALES = {"en": "en-US", "es": "es-MX"}
TEN_AM = datetime(2026, 3, 17, 14, 0, tzinfo=UTC)  # a Tuesday, on the shop's clock
SIX_PM_H = 9  # hours on: when the first wear is due, said generously

HOLD = "Boots off until the shop has answered."
START = "My boots are on: start the clock"
TOLD = "Saved on this phone. It goes to the shop when you are online again."
NOT_SAVED = (
    "No connection, so it is not saved. What you typed stays here: try again when the connection is"
    " back."
)
CLOT = (
    "New swelling, warmth, redness or pain in one leg can be a clot: get medical advice today."
    " Short of breath, or pain in the chest: call emergency services."
)
LOCKED = "document.dispatchEvent(new Event('visibilitychange'))"


@dataclass
class Theirs:
    """A customer's phone, and their ticket at the shop. away: there is no network."""

    store: Store
    clock: Line
    data_dir: Path
    shop: str
    page: Page
    words: Speech
    job: Job
    path: str
    away: bool = False
    complaints: list[str] = field(default_factory=list)

    @property
    def address(self) -> str:
        return self.shop + self.path

    def say(self, sentence: str, **values: object) -> str:
        return self.words.say(sentence, **values)

    def at(self) -> None:
        """The phone's clock shows the shop's time."""
        self.page.clock.set_fixed_time(self.clock.now)

    def open(self, below: str = "") -> Response | None:
        """The page as it is now; the worker has it when this returns."""
        self.at()
        answer = self.page.goto(self.address + below)
        if not below and not self.away:
            controlled(self.page)
        return answer

    def go(self, *, away: bool) -> None:
        self.away = away
        self.page.context.set_offline(away)

    def visit(self, *, away: bool) -> None:
        """Seen once, then seen again: with or without network."""
        self.open()
        self.go(away=away)
        self.open()

    def h1(self) -> str:
        return self.page.get_by_role("heading", level=1).inner_text()

    def tap(self, words: str) -> None:
        self.button(words).tap()

    def button(self, words: str, page: Page | None = None) -> Locator:
        return (page or self.page).get_by_role("button", name=self.say(words)).first

    def save(self, words: str) -> None:
        """A button whose answer is another page, without network a sentence beside the form."""
        if self.away:
            self.tap(words)
            self.wait(TOLD)
        else:
            with self.page.expect_navigation():
                self.tap(words)

    def refused(self, words: str) -> None:
        """Without network: what cannot wait stays on the page, and says so."""
        self.tap(words)
        self.wait(NOT_SAVED)
        assert self.kept() == []

    def sees(self, words: str, **values: object) -> bool:
        """Whether it can be read now, without scrolling or opening anything."""
        return self.page.get_by_text(self.say(words, **values)).first.is_visible()

    def wait(self, words: str, **values: object) -> None:
        self.page.get_by_text(self.say(words, **values)).first.wait_for()

    def kept(self) -> list[dict[str, Any]]:
        """What waits on the phone."""
        rows: list[dict[str, Any]] = self.page.evaluate(f"({QUEUED})()")
        return rows

    def back_again(self) -> None:
        """The network is back, and what waited has gone."""
        self.at()
        self.go(away=False)
        until(self.page, lambda: not self.kept())

    def clocks(self) -> list[str]:
        """Wearing clocks that the phone keeps."""
        found: list[str] = self.page.evaluate(
            "Object.keys(localStorage).filter((key) => key.startsWith('wear '))"
        )
        return found

    def started(self, minutes: float) -> None:
        """The clock of the first wear, as if it had been started so long ago."""
        at = (self.clock.now - timedelta(minutes=minutes)).timestamp() * 1000
        key = [f"wear {self.path[-6:]} 1", str(int(at))]
        self.page.evaluate("([key, at]) => localStorage.setItem(key, at)", key)

    def plan(self) -> wear_calendar.Calendar:
        return wear_calendar.current(self.store, self.job.ticket_id, self.clock.now)

    def worn(self) -> list[Wear]:
        return [one for one in self.plan().plan.wears if one.state == "worn"]

    def act(self) -> Act:
        return Act(self.clock.now, 1)

    def finish(self, *things: int) -> None:
        for item_id in things:
            catch_up(self.store, self.act(), item_id, "shelved", StepInput(self.clock.now))

    def hand_over(self, *things: int, alone: str = "") -> None:
        said: dict[str, Any] = {"part": True, "preset": "three-short-wears", "hour": 18}
        handed = pickup.Handover(frozenset(things), self.clock.now, "Marisol", **said)
        pickup.hand_over(self.store, self.act(), self.job.ticket_id, handed, shop.read(self.store))

    def home(self) -> None:
        """Both boots at home since the morning; the first wear is due."""
        self.finish(self.job.left, self.job.right, self.job.bag)
        self.hand_over(self.job.left, self.job.right, self.job.bag)
        self.clock.on(hours=SIX_PM_H)

    def wear(self) -> None:
        """The next wear, told in time."""
        due = self.plan().plan.to_come[0]
        self.clock.now = due.end
        wear_calendar.record_wear(
            self.store, self.act(), self.job.ticket_id, due.n, due.start, due.minutes
        )

    def report(self, sign: str = "left-numb") -> None:
        told = not_right.NotRightReport(felt=(sign,))
        not_right.report(self.store, self.act(), self.job.ticket_id, told, self.clock.now.date())

    def answer(self, advice: str, note: str = "Come in before you go on.") -> date | None:
        seen = not_right.standing(self.store, self.job.ticket_id).seen
        day = self.clock.now.date() + timedelta(days=1) if advice == "go-on" else None
        typed = not_right.ShopAnswer(advice, note, day, seen)
        not_right.answer(self.store, self.act(), self.job.ticket_id, typed)
        return day


class Line(Clock):
    """The shop's clock, which holds every answer back while it hangs."""

    def __init__(self, now: datetime) -> None:
        super().__init__(now)
        self.answers = threading.Event()
        self.answers.set()

    def __call__(self) -> datetime:
        self.answers.wait()
        return super().__call__()

    @contextmanager
    def hangs(self) -> Iterator[None]:
        """Whoever asks the shop is neither answered nor refused."""
        self.answers.clear()
        try:
            yield
        finally:
            self.answers.set()


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
