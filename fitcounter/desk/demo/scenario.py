"""The invented shop: its story is data under seed_scenario/, played through the same desk calls
that the screens make.

Days in the data are relative to today, so that the shop is alive whenever it is opened. Nothing
here is a real person or shop.
"""

from __future__ import annotations

import json
from collections.abc import Iterator
from dataclasses import dataclass, field
from datetime import date, datetime, time, timedelta
from pathlib import Path
from typing import Any
from zoneinfo import ZoneInfo

from fitcounter.desk import shop
from fitcounter.desk.aftercare import guarantee_term
from fitcounter.desk.bench import plan as bench_plan
from fitcounter.desk.common.contact import read_phone
from fitcounter.desk.demo import events
from fitcounter.desk.intake import new_job
from fitcounter.desk.intake.job_records import Boots, NewJob, Seen, Thing, Who
from fitcounter.desk.measuring import save as measuring_save
from fitcounter.desk.measuring.sheet import Row, Sheet
from fitcounter.desk.measuring.terms import Terms, station_at
from fitcounter.desk.quote import agree
from fitcounter.desk.quote.offer import Line, make_offer
from fitcounter.desk.shop import Shop
from fitcounter.desk.staff import people
from fitcounter.fit.tape import parse_length
from fitcounter.settings import SEED_SCENARIO
from fitcounter.store import fits, items, staff, tags
from fitcounter.store.database import Act, Store, Written
from fitcounter.store.migrations import open_store

OPENED_AT = time(9, 10)


@dataclass
class Played:
    """One job of the story while it is played: what it became in the shop's file."""

    told: dict[str, Any]
    ticket_id: int = 0
    fit_id: int | None = None
    items: dict[str, int] = field(default_factory=dict)


@dataclass(frozen=True)
class Stage:
    """Where the story is played: the file, the shop, who is there, and now."""

    store: Store
    shop: Shop
    people: dict[str, int]
    now: datetime
    data_dir: Path

    def at(self, day: int, hour: str = "") -> datetime:
        """A time of the shop's own clock so many days from today, never later than now."""
        zone = ZoneInfo(self.shop.zone)
        clock = time.fromisoformat(hour.zfill(5)) if hour else OPENED_AT
        return min(datetime.combine(self.day(day), clock, tzinfo=zone), self.now)

    def day(self, day: int) -> date:
        return self.shop.today(self.now) + timedelta(days=day)

    def act(self, day: int, hour: str = "", who: str = "CO") -> Act:
        return Act(self.at(day, hour), self.people[who])


def load(data_dir: Path, now: datetime) -> None:
    """Writes the invented shop into an empty data folder. now: aware UTC."""
    told = json.loads((SEED_SCENARIO / "shop.json").read_text(encoding="utf-8"))
    jobs = json.loads((SEED_SCENARIO / "jobs.json").read_text(encoding="utf-8"))
    store = open_store(data_dir / "shop.db")
    # a throw-away file: it need not survive a power cut while it is being written
    store.db.execute("PRAGMA synchronous = OFF")
    try:
        first = Act(now - timedelta(days=500))
        shop.choose(store, first, **told["choices"])
        for one in told["people"]:
            people.add_person(
                store, first, one["name"], one["initials"], one["role"], one["passphrase"]
            )
        _add_trees(store, first, told["trees"])
        known = {person.initials: person.id for person in staff.everybody(store)}
        stage = Stage(store, shop.read(store), known, now, data_dir)
        play(stage, jobs)
        guarantee_term.close_expired(store, Act(now), stage.shop)
        bench_plan.renew(store, Act(now), stage.shop)
    finally:
        store.close()


def play(stage: Stage, jobs: list[dict[str, Any]]) -> None:
    """Plays every job, all of them in the order of time, because they share the trees."""
    played = [Played(one) for one in jobs]
    acts: list[tuple[datetime, int, int, list[Any]]] = [
        (stage.at(one.told["opened"]), 0, number, []) for number, one in enumerate(played)
    ]
    for number, one in enumerate(played):
        acts += [
            (stage.at(event[2], event[3]), 1 + order, number, event)
            for order, event in enumerate(_events(one.told))
        ]
    for _, _, number, event in sorted(acts, key=lambda act: act[:3]):
        if event:
            events.step(stage, played[number], event)
        else:
            _take_in(stage, played[number])


def welcome(base_url: str) -> str:
    """What the demo prints: where it is, how to get in, what to try."""
    told = json.loads((SEED_SCENARIO / "shop.json").read_text(encoding="utf-8"))
    words = "\n".join(
        f"  {one['initials']}  {one['passphrase']}   ({one['role']})" for one in told["people"]
    )
    return f"""The invented shop is open at {base_url}

Sign in with initials and passphrase:
{words}

Try: find 0142 on Today · open Marisol's left boot and take it off its tree ·
New job for a pair that will not close · Pickup.
Everything in it is invented. Stop with Ctrl-C."""


def _events(told: dict[str, Any]) -> Iterator[list[Any]]:
    yield from told.get("life", [])
    for day, how, again in told.get("calls", []):
        yield ["all", "call", day, "10:15", {"how": how, "again": again}]


def _add_trees(store: Store, act: Act, told: list[dict[str, str]]) -> None:
    def write() -> Written:
        for one in told:
            girths = {
                name: parse_length(one[name], "in").um for name in ("closed", "open") if name in one
            }
            columns = {f"{name}_um": um for name, um in girths.items()}
            tree_id = store.insert(
                "trees",
                label=one["label"],
                side=one["side"],
                size=one["size"],
                open_setting_milli=30000,
                **columns,
            )
            tags.make(store, act, None, None, None, tree_id)
        return Written(detail={"trees": len(told)})

    store.once(act, "trees-added", write)


def _take_in(stage: Stage, one: Played) -> None:
    """From the door to the bench's queue, or as far as the story says."""
    told, act = one.told, stage.act(one.told["opened"])
    written = new_job.open_ticket(stage.store, act, stage.shop, _new_job(stage, told))
    one.ticket_id, one.fit_id = written.ticket_id or 0, written.row_id
    one.items = {
        item.side or item.kind: item.id for item in items.of_ticket(stage.store, one.ticket_id)
    }
    events.own_choices(stage, one)
    if "left" in told and one.fit_id is not None:
        _measure(stage, act, one)
    if "decline" in told and one.fit_id is not None:
        agree.decline(stage.store, act, one.fit_id, told["decline"], stage.data_dir)
    elif "deposit" in told:
        _agree(stage, act, one)


def _new_job(stage: Stage, told: dict[str, Any]) -> NewJob:
    phone = read_phone(told["phone"], stage.shop.country)
    pair = dict(told.get("boots", {}))
    boots = None
    if pair:
        um = {
            f"{name}_um": round(pair.pop(f"{name}_mm") * 1000)
            for name in ("wall", "throat")
            if f"{name}_mm" in pair
        }
        seen = tuple(Seen(*one) for one in told.get("seen", []))
        boots = Boots(
            sides=("left", "right"), target=told.get("target", "gap"), seen=seen, **pair, **um
        )
    things = tuple(
        Thing(one["kind"], one["description"], one["jobs"], stage.day(one["promised"]))
        for one in told.get("things", [])
    )
    needed_by = stage.day(told["needed_by"]) if "needed_by" in told else None
    arrives = stage.day(told["arrives"]) if "arrives" in told else None
    who = Who(told["name"], phone)
    return NewJob(
        who, boots, things, needed_by, told.get("worn_with", ""), told.get("note", ""), arrives
    )


def _measure(stage: Stage, act: Act, one: Played) -> None:
    """The sheet as the counter typed it."""
    told = one.told
    heights: list[str] = []
    cells: dict[str, str] = {}
    for side in ("left", "right"):
        for what, key in (("leg", "leg"), ("boot", "boot"), ("gap", "gaps"), ("amount", "amounts")):
            for height, girth in told[side].get(key, []):
                if height not in heights:
                    heights.append(height)
                cells[f"{what}_{side}_{heights.index(height)}"] = girth
    rows = tuple(Row(height, station_at(parse_length(height, "in").float_mm)) for height in heights)
    sheet = Sheet("in", told["target"], rows, cells)
    heel = told.get("heel", ["", ""])
    terms = Terms(over=told.get("worn_with", "skin"), heel_left=heel[0], heel_right=heel[1])
    measuring_save.save(stage.store, act, one.fit_id or 0, sheet, terms, None)


def _agree(stage: Stage, act: Act, one: Played) -> None:
    """The price lines as offered, with the other things' own prices; her name; the deposit."""
    offer = make_offer(stage.store, stage.shop, one.ticket_id, stage.shop.today(act.at))
    own = {thing["kind"]: thing["price"] for thing in one.told.get("things", [])}
    price = {one.items[kind]: minor for kind, minor in own.items()}
    lines = tuple(
        Line(line.what, line.kind, price.get(line.item_id or 0, line.amount_minor), line.item_id)
        for line in offer.lines
    )
    said = agree.Agreed(lines, one.told["name"], offer.promise, one.told["deposit"], "CO")
    agree.agree(stage.store, act, stage.shop, one.ticket_id, said, stage.data_dir)
    if one.fit_id is not None:
        one.items |= {boot.side or "": boot.id for boot in fits.boots(stage.store, one.fit_id)}
