"""The invented shop: its story is data under seed_scenario/, played through the same desk calls
that the screens make.

Days in the data are relative to today, so that the shop is alive whenever it is opened. Nothing
here is a real person or shop.
"""

from __future__ import annotations

import json
from collections.abc import Iterator
from dataclasses import replace
from datetime import datetime, timedelta
from pathlib import Path
from typing import Any

from fitcounter.desk import shop
from fitcounter.desk.aftercare import guarantee_term
from fitcounter.desk.common.contact import read_phone
from fitcounter.desk.common.translation import say
from fitcounter.desk.demo import events
from fitcounter.desk.demo.stage import PlayedJob, Stage
from fitcounter.desk.intake import new_job
from fitcounter.desk.intake.job_records import Boots, NewJob, Seen, Thing, Who
from fitcounter.desk.measuring import save as measuring_save
from fitcounter.desk.measuring.how_it_was_read import Terms, station_at
from fitcounter.desk.measuring.sheet import Row, Sheet
from fitcounter.desk.plan import plan_keeping
from fitcounter.desk.quote import agree, price_list, rush
from fitcounter.desk.quote.offer import make_offer
from fitcounter.desk.quote.offer_line import OfferLine
from fitcounter.desk.quote.price_list import EntryInput
from fitcounter.desk.staff import people
from fitcounter.desk.staff.people import ROLES
from fitcounter.desk.tickets import more_work
from fitcounter.desk.tickets.more_work import WorkInput
from fitcounter.fit.tape import parse_length
from fitcounter.settings import SEED_SCENARIO
from fitcounter.store import fits, items, staff, tags
from fitcounter.store.database import Act, Store, Written
from fitcounter.store.opening import open_store


def load(data_dir: Path, now: datetime) -> None:
    """Writes the invented shop into an empty data folder. now: aware UTC."""
    story = json.loads((SEED_SCENARIO / "shop.json").read_text(encoding="utf-8"))
    jobs = json.loads((SEED_SCENARIO / "jobs.json").read_text(encoding="utf-8"))
    store = open_store(data_dir / "shop.db")
    # a throw-away file: it need not survive a power cut while it is being written
    store.db.execute("PRAGMA synchronous = OFF")
    store.follow_ups = ()  # the bench is planned once, when all of it is written
    try:
        first = Act(now - timedelta(days=500))
        shop.choose(store, first, **story["choices"])
        for person in story["people"]:
            people.add_person(store, first, **person)
        _add_prices(store, first, story["prices"])
        _add_trees(store, first, story["trees"])
        known = {person.initials: person.id for person in staff.everybody(store)}
        stage = Stage(store, shop.read(store), known, now, data_dir)
        play(stage, jobs)
        guarantee_term.close_expired(store, Act(now), stage.shop)
        plan_keeping.renew(store, Act(now))
    finally:
        store.close()


def play(stage: Stage, jobs: list[dict[str, Any]]) -> None:
    """Plays every job, all of them in the order of time, because they share the trees."""
    played = [PlayedJob(story) for story in jobs]
    acts: list[tuple[datetime, int, int, list[Any]]] = [
        (stage.at(job.story["opened"]), 0, number, []) for number, job in enumerate(played)
    ]
    for number, job in enumerate(played):
        acts += [
            (stage.at(event[2], event[3]), 1 + order, number, event)
            for order, event in enumerate(_events(job.story))
        ]
    for _, _, number, event in sorted(acts, key=lambda act: act[:3]):
        if event:
            events.step(stage, played[number], event)
        else:
            _take_in(stage, played[number])


def welcome(base_url: str) -> str:
    """What the demo prints: where it is, how to get in, what to try."""
    story = json.loads((SEED_SCENARIO / "shop.json").read_text(encoding="utf-8"))
    words = "\n".join(
        f"  {person['initials']}  {person['passphrase']}   ({say(ROLES[person['role']])})"
        for person in story["people"]
    )
    return "\n".join(
        (
            say("The invented shop is open at {address}", address=base_url),
            "",
            say("Sign in with initials and passphrase:"),
            words,
            "",
            say(
                "Try: find 0142 on Today · open Marisol’s left boot and take it off the tree · New"
                " job for a pair that will not close · Pickup."
            ),
            say("Everything in it is invented. Stop with Ctrl-C."),
        )
    )


def _events(story: dict[str, Any]) -> Iterator[list[Any]]:
    """Its events as [whose, step, days from today, time, what was said]."""
    yield from story.get("life", [])
    for day, how, again in story.get("calls", []):
        yield ["all", "call", day, "10:15", {"how": how, "again": again}]


def _add_prices(store: Store, act: Act, listed: dict[str, list[int]]) -> None:
    """Of each usual work the price of one piece, and of an inch of its size."""
    for key, (price_minor, size_minor) in listed.items():
        usual = price_list.get(store, key)
        entry = EntryInput(
            what=usual.name,
            price_minor=price_minor,
            size_minor=size_minor,
            days=usual.days,
            timing=usual.timing,
        )
        price_list.save(store, act, key, entry)


def _add_trees(store: Store, act: Act, listed: list[dict[str, str]]) -> None:
    def write() -> Written:
        for tree in listed:
            girths_um = {
                f"{name}_um": parse_length(tree[name], "in").um
                for name in ("closed", "open")
                if name in tree
            }
            tree_id = store.insert(
                "trees",
                label=tree["label"],
                side=tree["side"],
                size=tree["size"],
                open_setting_milli=30000,
                **girths_um,
            )
            tags.make(store, act, None, None, None, tree_id)
        return Written(detail={"trees": len(listed)})

    store.once(act, "trees-added", write)


def _take_in(stage: Stage, job: PlayedJob) -> None:
    """From the door to the bench's queue, or as far as the story says."""
    story, act = job.story, stage.act(job.story["opened"])
    written = new_job.open_ticket(stage.store, act, stage.shop, _new_job(stage, story))
    job.ticket_id, job.fit_id = written.ticket_id or 0, written.row_id
    job.items = {
        item.side or item.kind: item.id for item in items.of_ticket(stage.store, job.ticket_id)
    }
    events.own_choices(stage, job)
    if "left" in story and job.fit_id is not None:
        _measure(stage, act, job)
    if "decline" in story and job.fit_id is not None:
        agree.decline(stage.store, act, job.fit_id, story["decline"], stage.data_dir)
    elif "deposit" in story:
        _add_work(stage, act, job)
        _agree(stage, act, job)


def _new_job(stage: Stage, story: dict[str, Any]) -> NewJob:
    phone = read_phone(story["phone"], stage.shop.country)
    pair = dict(story.get("boots", {}))
    boots = None
    if pair:
        um = {
            f"{name}_um": round(pair.pop(f"{name}_mm") * 1000)
            for name in ("wall", "throat")
            if f"{name}_mm" in pair
        }
        seen = tuple(Seen(*one) for one in story.get("seen", []))
        boots = Boots(
            sides=("left", "right"), target=story.get("target", "gap"), seen=seen, **pair, **um
        )
    things = tuple(
        Thing(one["kind"], one["description"], one["jobs"], stage.day(one["promised"]))
        for one in story.get("things", [])
    )
    needed_by = stage.day(story["needed_by"]) if "needed_by" in story else None
    arrives = stage.day(story["arrives"]) if "arrives" in story else None
    who = Who(story["name"], phone)
    words = (story.get("worn_with", ""), story.get("note", ""))
    return NewJob(who, boots, things, needed_by, *words, arrives, "rush" in story)


def _measure(stage: Stage, act: Act, job: PlayedJob) -> None:
    """The sheet as the counter typed it."""
    story = job.story
    heights: list[str] = []
    cells: dict[str, str] = {}
    for side in ("left", "right"):
        for what, key in (("leg", "leg"), ("boot", "boot"), ("gap", "gaps"), ("amount", "amounts")):
            for height, girth in story[side].get(key, []):
                if height not in heights:
                    heights.append(height)
                cells[f"{what}_{side}_{heights.index(height)}"] = girth
    rows = tuple(Row(height, station_at(parse_length(height, "in").float_mm)) for height in heights)
    sheet = Sheet("in", story["target"], rows, cells)
    heel = story.get("heel", ["", ""])
    terms = Terms(over=story.get("worn_with", "skin"), heel_left=heel[0], heel_right=heel[1])
    measuring_save.save(stage.store, act, job.fit_id or 0, sheet, terms, None)


def _add_work(stage: Stage, act: Act, job: PlayedJob) -> None:
    """What was asked for beside the stretching; the price is for each."""
    for asked in job.story.get("work", []):
        on = frozenset(job.items[whose] for whose in asked.get("on", ()))
        typed = WorkInput(what=asked["what"], item_ids=on, price=asked.get("price"))
        more_work.add(stage.store, act, stage.shop, job.ticket_id, typed, stage.data_dir)


def _agree(stage: Stage, act: Act, job: PlayedJob) -> None:
    """The price lines as offered, with the other things' own prices; her name; the deposit."""
    offer = make_offer(stage.store, stage.shop, job.ticket_id, stage.shop.today(act.at))
    prices = {thing["kind"]: thing["price"] for thing in job.story.get("things", [])}
    price = {job.items[kind]: minor for kind, minor in prices.items()}
    lines = tuple(
        replace(line, amount_minor=price.get(line.item_id or 0, line.amount_minor))
        for line in offer.lines
    )
    if "rush" in job.story:
        lines += (OfferLine(rush.LINE, "job", stage.shop.rush_minor),)
    agreed = agree.Agreed(
        lines,
        job.story["name"],
        offer.promise,
        job.story["deposit"],
        "CO",
        deposit_method="cash" if job.story["deposit"] else "",
    )
    agree.agree(stage.store, act, stage.shop, job.ticket_id, agreed, stage.data_dir)
    if job.fit_id is not None:
        job.items |= {boot.side or "": boot.id for boot in fits.boots(stage.store, job.fit_id)}
