"""A customer's phone, which shows the page of their ticket, with network and without; and the
shop's clock, which can hold every answer back.
"""

from __future__ import annotations

import threading
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field
from datetime import date, datetime, timedelta
from pathlib import Path
from typing import Any

import pytest
from browser.offline_cast import QUEUED, controlled, until
from playwright.sync_api import Error as PlaywrightError
from playwright.sync_api import Locator, Page, Response
from support.cast import Clock
from support.ticket_rows import Job

from fitcounter.desk import shop
from fitcounter.desk.aftercare import not_right, wear_calendar
from fitcounter.desk.common.catch_up import catch_up
from fitcounter.desk.common.state_changes import StepInput
from fitcounter.desk.common.translation import Speech
from fitcounter.desk.front_desk import pickup
from fitcounter.fit.wear.wear import Wear
from fitcounter.store.database import Act, Store

ZONE = "America/New_York"
LOCALES = {"en": "en-US", "es": "es-MX"}
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
NO_NETWORK = "No connection"
NO_PRICES = "Prices and papers are not kept on this phone. Open them when the connection is back."
LOCKED = "document.dispatchEvent(new Event('visibilitychange'))"
LINKS = "[...document.querySelectorAll('main a')].map((one) => one.getAttribute('href'))"
with_and_without = pytest.mark.parametrize("away", [False, True], ids=["online", "offline"])


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

    def at_rest(self) -> None:
        """Nothing waits on the phone, and the page loads itself anew no more, as it does for each
        thing that was sent.
        """
        until(self.page, self._rests)

    def _rests(self) -> bool:
        try:
            if self.kept():
                return False
            self.page.evaluate("document.wasSeen = true")
            self.page.wait_for_timeout(500)
            return bool(self.page.evaluate("document.wasSeen === true"))
        except PlaywrightError:  # it went in the middle of the question
            return False

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


def no_network_at(their: Theirs, below: str) -> None:
    """A page that is not kept gives way to their own page for no network."""
    their.open(below)
    assert their.h1() == their.say(NO_NETWORK)
    assert their.sees(NO_PRICES)
    assert their.page.locator("[href='tel:555010-0199']").is_visible()
    assert their.page.locator("nav").count() == 0
