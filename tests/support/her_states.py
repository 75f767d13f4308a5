"""One customer from the counter to the end of the calendar: every state that the page can show, in
the order of time. What looks at the page goes along.
"""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from datetime import timedelta
from pathlib import Path

from support.cast import Clock
from support.served_shop import open_shop
from support.ticket_rows import Job, make_job

from fitcounter.desk import shop
from fitcounter.desk.aftercare import not_right, wear_calendar
from fitcounter.desk.common import link_token
from fitcounter.desk.common.catch_up import catch_up
from fitcounter.desk.common.state_changes import StepInput
from fitcounter.desk.customer import sharing
from fitcounter.desk.front_desk import pickup
from fitcounter.store import tickets
from fitcounter.store.database import Act, Store
from fitcounter.store.opening import open_store

ZONE = "America/New_York"
NO_LINK = "/c/" + "A" * 22
DIGITS = "0142"


@dataclass(frozen=True)
class State:
    """What is to be seen now. address: of the page. started: minutes since the phone's clock was
    started, None where it does not run. digits: the page is seen once the last four are typed.
    status: the server answers with.
    """

    name: str
    address: str
    started: int | None = None
    digits: bool = False
    status: int = 200


@dataclass
class Hers:
    """Her ticket, the shop's file and clock, and the address of her page."""

    store: Store
    clock: Clock
    job: Job
    data_dir: Path
    shop: str
    path: str

    def state(self, name: str, below: str = "", started: int | None = None) -> State:
        return State(name, f"{self.shop}{self.path}{below}", started)

    def key(self) -> str:
        """Under which her phone keeps the clock of the first wear."""
        return f"wear {self.path[-6:]} 1"

    def finish(self, *things: int) -> None:
        for item_id in things:
            catch_up(
                self.store, Act(self.clock.now, 1), item_id, "shelved", StepInput(self.clock.now)
            )

    def hand_over(self, *things: int) -> None:
        act = Act(self.clock.now, 1)
        said = {"part": True, "preset": "three-short-wears", "hour": 18}
        handed = pickup.Handover(frozenset(things), act.at, "Marisol", **said)
        pickup.hand_over(self.store, act, self.job.ticket_id, handed, shop.read(self.store))

    def wear(self) -> None:
        plan = wear_calendar.current(self.store, self.job.ticket_id, self.clock.now).plan
        due = plan.to_come[0]
        self.clock.now = due.end
        wear_calendar.record_wear(
            self.store, Act(self.clock.now), self.job.ticket_id, due.n, due.start, due.minutes
        )

    def report(self) -> None:
        told = not_right.NotRightReport(felt=("left-numb",))
        today = self.clock.now.date()
        not_right.report(self.store, Act(self.clock.now), self.job.ticket_id, told, today)

    def answer(self, advice: str) -> None:
        seen = not_right.standing(self.store, self.job.ticket_id).seen
        day = self.clock.now.date() + timedelta(days=1) if advice == "go-on" else None
        typed = not_right.ShopAnswer(advice, "Come in before you go on.", day, seen)
        not_right.answer(self.store, Act(self.clock.now, 1), self.job.ticket_id, typed)

    def looked_at(self) -> str:
        """The address that somebody else may look at."""
        sharing.share(self.store, Act(self.clock.now), self.job.ticket_id, self.data_dir)
        token = sharing.token_of(self.store, self.job.ticket_id, self.data_dir)
        return f"{self.shop}/s/{token}"

    def promise_yesterday(self) -> None:
        day = (self.clock.now - timedelta(days=1)).date().isoformat()
        with self.store.write_tx():
            for item_id in (self.job.left, self.job.right):
                self.store.change("items", item_id, promised_day=day)


@contextmanager
def hers(data_dir: Path) -> Iterator[Hers]:
    """In a shop of its own whose doors are open. data_dir: of a new shop with its people."""
    store, clock = open_store(data_dir / "shop.db"), Clock()
    job = make_job(store, Act(clock.now, 1))
    ticket = tickets.get(store, job.ticket_id)
    key = link_token.link_key(data_dir)
    with store.write_tx():
        until = "2027-12-31T00:00:00Z"
        store.change("tickets", ticket.id, **link_token.link_hashes(key, ticket), link_until=until)
    with open_shop(data_dir, clock) as address:
        yield Hers(store, clock, job, data_dir, address, f"/c/{link_token.link_token(key, ticket)}")
    store.close()


def every_state(hers: Hers) -> Iterator[State]:
    """From the counter to the end of the calendar; each is there until the next is asked for."""
    yield from _at_the_shop(hers)
    hers.hand_over(hers.job.right)
    yield hers.state("rest before the first")
    hers.clock.on(hours=9)
    yield hers.state("wearing day")
    yield State("somebody else looks", hers.looked_at())
    yield hers.state("counting", started=10)
    yield hers.state("forgotten", started=240)
    yield hers.state("time is up", started=31)
    hers.wear()
    yield hers.state("rest day")
    yield from _not_right(hers)
    hers.clock.on(days=2)
    yield hers.state("missed")
    hers.clock.on(days=8)
    yield hers.state("a week without")
    for _ in range(2):
        hers.wear()
    hers.clock.on(days=1)
    yield hers.state("out to lunch")
    hers.clock.on(days=1)
    yield hers.state("first whole day")
    hers.clock.on(days=8)
    yield hers.state("finished")


def _at_the_shop(hers: Hers) -> Iterator[State]:
    job = hers.job
    yield hers.state("at the shop")
    yield hers.state("no network", "/offline")
    yield hers.state("the last four are asked", "/agreed")
    yield State("private part", f"{hers.shop}{hers.path}/agreed", digits=True)
    yield hers.state("e-mails", "/mail")
    yield State("dead link", hers.shop + NO_LINK, status=404)
    yield State("code from paper", f"{hers.shop}/b/7K3M-9QXW-E")
    hers.promise_yesterday()
    yield hers.state("promise slipped")
    hers.finish(job.left, job.right, job.bag)
    yield hers.state("ready")
    hers.hand_over(job.left, job.bag)
    yield hers.state("one boot home")


def _not_right(hers: Hers) -> Iterator[State]:
    hers.report()
    yield hers.state("on hold")
    for advice, name in (("come-in", "come in"), ("doctor", "see a doctor"), ("stop", "stopped")):
        hers.answer(advice)
        yield hers.state(name)
    hers.answer("go-on")
    yield hers.state("answered: go on")
