"""A customer and a shop over random days: what every form of the wearing-in calendar must say is
held beside it, and compared after each step.
"""

from __future__ import annotations

import random
import re
from collections import Counter as Tally
from dataclasses import dataclass, field
from datetime import UTC, date, datetime, timedelta
from zoneinfo import ZoneInfo

from icalendar import Calendar
from support.cast import Clock, Counter
from support.ticket_rows import Job, make_job

from fitcounter.desk import shop as desk_shop
from fitcounter.desk.aftercare import comeback, not_right, wear_calendar
from fitcounter.desk.common import link_token
from fitcounter.desk.common.catch_up import catch_up
from fitcounter.desk.common.state_changes import StepInput
from fitcounter.desk.customer import calendar as customer_calendar
from fitcounter.desk.front_desk import pickup
from fitcounter.errors import FitCounterError
from fitcounter.papers.calendar_days import day_lines
from fitcounter.store import items, tickets, wears
from fitcounter.store.database import Act, Store

ZONES = ("America/New_York", "Europe/Madrid", "Asia/Kolkata", "Pacific/Chatham")
PLANNED_DAY = re.compile(r'data-n="\d+"\s+data-starts="(\d{4}-\d\d-\d\d)')


@dataclass
class WearingModel:
    """One customer's boots. worn: what the shop has taken, each with its minutes. held: boots off.
    last: the wear that an undo would take back, None where it would take back something else.
    """

    store: Store
    clock: Clock
    phone: Counter
    token: str
    job: Job
    dice: random.Random
    taken: Tally[str] = field(default_factory=Tally)
    worn: list[int] = field(default_factory=list)
    held: bool = False
    last: int | None = None
    sequence: int = -1
    number: int = 0
    seen: str = ""

    def day(self) -> None:
        """One day: something happens at a random hour, or nothing, and every form agrees."""
        away = self.dice.random() < 0.04  # the page then asks whether to start again
        self.clock.on(hours=self.dice.uniform(190, 300) if away else self.dice.uniform(2, 40))
        usual = (
            *(self.wear,) * 5,
            *(self.nothing, self.undo, self.not_today, self.hour, self.zone, self.again),
            *(self.report, self.answer, self.come_back, self.pick_up),
        )
        # else the boots would be off or at the shop on most days
        ways = (*usual, *(self.answer,) * 6, *(self.pick_up,) * 6) if self.held else usual
        way = self.again if away else self.dice.choice(ways)
        self.phone.get(f"/c/{self.token}")
        if way():
            self.taken[way.__name__] += 1
        self.agree()

    def nothing(self) -> bool:
        return True

    def wear(self) -> bool:
        """Told at once or hours later from the outbox, sometimes sent twice, sometimes odd."""
        today = wear_calendar.current(self.store, self.job.ticket_id, self.clock.now)
        n = today.plan.to_come[0].n if today.plan.to_come else 0
        minutes = self.dice.choice((30, 30, 30, 5, 44, 90, 700))
        self.number += 1
        once = f"wear-{self.job.ticket_id:04}-{self.number:06}"
        typed = {"n": str(n), "minutes": str(minutes), "submission_id": once}
        waited = self.dice.random() < 0.4
        headers = {"Outbox": "later", "Outbox-Age": str(self.dice.randrange(0, 7 * 3600))}
        sure = {"sure": "1"} if self.dice.random() < 0.5 else {}
        saved = False
        for _ in range(self.dice.choice((1, 1, 2))):
            path = f"/c/{self.token}/wear"
            data = {**typed, **sure}
            answer = self.phone.send(path, data, headers=headers if waited else {})
            saved = answer.status_code < 400
        if saved:
            self.worn.append(minutes)
            self.last = minutes
        return saved

    def undo(self) -> bool:
        done = self.post("undo")
        if done and self.last is not None:
            self.worn.remove(self.last)
        self.last = None if done else self.last
        return done

    def not_today(self) -> bool:
        return self.changed(self.post("not-today", n=str(self.dice.randint(1, 3))))

    def hour(self) -> bool:
        hour = f"{self.dice.randrange(24):02}:30"
        return self.told("hour", evening=hour, sure=self.dice.choice(("", "1")))

    def zone(self) -> bool:
        return self.told("zone", zone=self.dice.choice(ZONES))

    def again(self) -> bool:
        return self.told("again", again=self.dice.choice(("yes", "no")))

    def told(self, path: str, **typed: str) -> bool:
        """What the calendar holds already changes nothing, so the wear before it can be undone."""
        before = self.kept()
        done = self.post(path, **typed)
        self.changed(self.kept() != before)
        return done

    def kept(self) -> object:
        """What an undo would take back."""
        sql = "SELECT before FROM wear_plans WHERE ticket_id = ?"
        return self.store.value(sql, self.job.ticket_id)

    def report(self) -> bool:
        """Something hurts: boots off from now on, if there is a calendar of boots at home."""
        felt = self.dice.choice(("left-numb", "right-tight", "left-seam"))
        done = self.post("not-right", felt=felt)
        self.held = self.held or done
        return self.changed(done)

    def answer(self) -> bool:
        """A person answers, now and then what is no longer the last word."""
        now = not_right.standing(self.store, self.job.ticket_id).seen
        stale = bool(self.seen) and self.seen != now and self.dice.random() < 0.2
        advice = self.dice.choice(("go-on",) * 6 + ("come-in", "doctor", "stop"))
        day = self.clock.now.astimezone(ZoneInfo(ZONES[0])).date()
        from_day = day + timedelta(days=self.dice.randrange(4)) if advice == "go-on" else None
        typed = not_right.ShopAnswer(advice, "As I said.", from_day, self.seen if stale else now)
        done = self.tried(lambda act: not_right.answer(self.store, act, self.job.ticket_id, typed))
        assert done != stale
        self.seen = now
        self.held = self.held if stale else advice != "go-on"
        # only "go on" plans anew; after the others her last wear is still hers to take back
        return self.changed(done) if advice == "go-on" else done

    def come_back(self) -> bool:
        """A boot is back; its other goes on or not."""
        if self.dice.random() < 0.5:
            return False
        item = self.dice.choice((self.job.left, self.job.right))
        on = self.dice.random() < 0.5
        before = self.home()
        typed = comeback.ComebackInput(self.clock.now, "tight", "15", "", "in", on)
        shop = desk_shop.read(self.store)
        done = self.tried(lambda act: comeback.come_back(self.store, act, item, typed, shop))
        if done and not (on and len(before) == 2):
            self.held = False
        return self.changed(done)

    def pick_up(self) -> bool:
        """What is at the shop goes home."""
        things = self.store.rows(
            "SELECT id FROM items WHERE ticket_id = ? AND state NOT IN ('out', 'closed')",
            self.job.ticket_id,
        )
        ids = [int(row["id"]) for row in things]
        if not ids:
            return False
        act = Act(self.clock.now, 1)
        for item_id in ids:
            catch_up(self.store, act, item_id, "shelved", StepInput(act.at))
        handed = pickup.Handover(frozenset(ids), act.at, "Marisol", preset="three-short-wears")
        pickup.hand_over(self.store, act, self.job.ticket_id, handed, desk_shop.read(self.store))
        self.held = False
        return self.changed(True)

    def home(self) -> list[int]:
        held = items.of_ticket(self.store, self.job.ticket_id)
        return [one.id for one in held if one.work == "stretch" and one.state == "out"]

    def tried(self, write) -> bool:  # type: ignore[no-untyped-def]
        try:
            write(Act(self.clock.now, 1))
        except FitCounterError:
            return False
        return True

    def post(self, path: str, **typed: str) -> bool:
        return self.phone.post(f"/c/{self.token}/{path}", **typed).status_code == 303

    def changed(self, done: bool) -> bool:
        self.last = None if done else self.last
        return done

    def agree(self) -> None:
        """Page, page to save, paper and phone's calendar say the same; nothing worn is lost."""
        page = self.phone.get(f"/c/{self.token}").text
        saved = self.phone.get(f"/c/{self.token}/calendar.html").text.partition("<script>")[0]
        file = Calendar.from_ical(self.phone.get(f"/c/{self.token}/calendar.ics").data)
        shop = desk_shop.read(self.store)
        sheet = customer_calendar.sheet(self.store, shop, self.token, self.clock.now)
        paper = [line for line in day_lines(sheet, lambda text, **_: text) if line.starts]
        events = [one for one in file.walk("VEVENT") if one.walk("VALARM")]
        days = sorted(date.fromisoformat(day) for day in PLANNED_DAY.findall(saved))
        assert days == sorted(line.day for line in paper if line.day)
        assert days == sorted(one.decoded("dtstart").date() for one in events)
        status = {
            str(one["status"]) for one in file.walk("VEVENT") if "guarantee" not in one["uid"]
        }
        if self.held:
            assert not days
            assert status <= {"CANCELLED"} or not events
            assert "data-minutes" not in page
            assert "Boots off" in sheet.hold
            assert sheet.hold in saved
            # with no boot at home the page begins with where they are
            assert f">{sheet.hold}</{'h1' if self.home() else 'strong'}>" in page
        elif "data-minutes" in page:
            assert self.clock.now.astimezone(ZoneInfo(sheet.zone)).date() in days
        self.none_lost_or_doubled()
        assert sheet.sequence >= self.sequence
        self.sequence = sheet.sequence

    def none_lost_or_doubled(self) -> None:
        plan = wears.get(self.store, self.job.ticket_id)[1]
        now = [wear.actual_minutes for wear in plan.wears if wear.state == "worn"]
        sql = "SELECT e.actual_minutes AS m FROM earlier_wears e JOIN wear_plans p ON p.id ="
        before = self.store.rows(f"{sql} e.plan_id WHERE p.ticket_id = ?", self.job.ticket_id)
        assert sorted([*now, *(row["m"] for row in before)]) == sorted(self.worn)


def play(store: Store, clock: Clock, phone: Counter, days: int, seed: int) -> Tally[str]:
    """So many steps of one customer, each a day or so after the last; gives what happened."""
    clock.now = datetime(2026, 3, 1, 14, 0, tzinfo=UTC) + timedelta(days=seed)
    act = Act(clock.now, 1)
    job = make_job(store, act)
    folder = store.path.parent
    token = link_token.link_token(link_token.link_key(folder), tickets.get(store, job.ticket_id))
    with store.write_tx():
        link = {"link_hash": link_token.link_hash(token), "link_until": "2099-01-01T00:00:00Z"}
        store.change("tickets", job.ticket_id, **link)
    model = WearingModel(store, clock, phone, token, job, random.Random(seed))
    model.pick_up()
    with store.write_tx():
        store.change("tickets", job.ticket_id, link_until="2099-01-01T00:00:00Z")
    for _ in range(days):
        model.day()
    return model.taken
