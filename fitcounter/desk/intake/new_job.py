"""Opening a ticket: who, by when, which things, and what we saw on them.

Everything that is refused is refused before a row is written.
"""

from __future__ import annotations

import json
from collections.abc import Sequence
from dataclasses import dataclass, field
from datetime import date
from typing import Any

from fitcounter.desk.assessment.limits import leather_of
from fitcounter.desk.common.condition import SIGHTS
from fitcounter.desk.common.contact import Phone
from fitcounter.desk.common.item_steps import Said, write_step
from fitcounter.desk.common.leather_presets import ZIP_FROM_UM, ZIP_TO_UM, Guess, guess
from fitcounter.desk.shop import Shop
from fitcounter.errors import BadInput, Conflict
from fitcounter.store import customers, drafts, erasing, findings, items, tickets
from fitcounter.store.database import Act, Store, Written, utc_text
from fitcounter.store.records import Customer

__all__ = [
    "Boots",
    "Customer",
    "NewJob",
    "Seen",
    "Thing",
    "Who",
    "add_items",
    "add_to_ticket",
    "known",
    "open_ticket",
    "part_of_day",
    "write_ticket",
]

LETTERS = "ABCDEFGHIJKLMNOPQRSTUVWXYZ"
MOST_THINGS = 12
NOON, AFTERNOON = 12, 16


@dataclass(frozen=True, slots=True)
class Who:
    """Whose things they are: somebody the shop knows (customer_id), or somebody new.

    email: '' leaves a known one's as it is.
    """

    name: str
    phone: Phone = field(default_factory=Phone)
    customer_id: int | None = None
    email: str = ""


@dataclass(frozen=True, slots=True)
class Seen:
    """One finding on one side, before the work."""

    side: str
    word: str
    place: str = ""


@dataclass(frozen=True, slots=True)
class Boots:
    """A pair, or one of it, to be stretched. Lengths in micrometres; None takes the guess of the
    class.

    target: how it will be said how much (leg, gap, amount, safe).
    """

    sides: tuple[str, ...]
    material: str
    closure: str
    lining: str
    description: str = ""
    target: str = "gap"
    seen: tuple[Seen, ...] = ()
    thickness_um: int | None = None
    lining_um: int | None = None
    wall_um: int | None = None
    zip_band_um: int | None = None
    backstay_um: int | None = None
    elastic_um: int | None = None
    throat_um: int | None = None
    signed_off: bool = False


@dataclass(frozen=True, slots=True)
class Thing:
    """Other work on the same ticket: one physical thing."""

    kind: str
    description: str
    jobs: str
    promised_day: date | None = None


@dataclass(frozen=True, slots=True)
class NewJob:
    """What is said at the counter.

    arrives: the day the things are brought in, None when they are here.
    """

    who: Who
    boots: Boots | None
    things: tuple[Thing, ...] = ()
    needed_by: date | None = None
    worn_with: str = ""
    note: str = ""
    arrives: date | None = None


def known(store: Store, phone: Phone) -> list[Customer]:
    """Customers the shop has with this number."""
    return customers.by_phone(store, phone.e164, phone.last4) if phone.last4 else []


def open_ticket(store: Store, act: Act, shop: Shop, job: NewJob, draft_id: str = "") -> Written:
    """One ticket with all its items.

    row_id: the fit to be measured, None where no boot is to be stretched. Raises BadInput.
    """
    _something(job)

    def write() -> Written:
        ticket_id, fit_id = write_ticket(store, act, shop, job)
        if draft_id:
            drafts.drop(store, draft_id)
        return Written(
            ticket_id, row_id=fit_id, detail={"items": len(items.of_ticket(store, ticket_id))}
        )

    return store.once(act, "ticket-opened", write)


def add_to_ticket(
    store: Store, act: Act, shop: Shop, ticket_id: int, job: NewJob, draft_id: str = ""
) -> Written:
    """More things on a ticket that is open; its customer, day and note stay.

    Raises BadInput, NotFound, Conflict.
    """
    _something(job)

    def write() -> Written:
        ticket = tickets.get(store, ticket_id)
        if ticket.state != "open":
            raise Conflict("That ticket is handed over. Open a new one for what came now.")
        if len({one.letter for one in items.of_ticket(store, ticket_id)}) + len(
            job.things
        ) + 1 > len(LETTERS):
            raise BadInput("This ticket is full. Open a second one for the rest.", field="things")
        fit_id = add_items(store, act, shop, ticket_id, job)
        if draft_id:
            drafts.drop(store, draft_id)
        return Written(
            ticket_id, row_id=fit_id, detail={"items": len(items.of_ticket(store, ticket_id))}
        )

    return store.once(act, "items-added", write)


def write_ticket(store: Store, act: Act, shop: Shop, job: NewJob) -> tuple[int, int | None]:
    """The rows of a new ticket, inside a write: its id and the fit of its boots."""
    customer_id = _customer(store, act, job.who)
    columns = {
        "needed_by": job.needed_by.isoformat() if job.needed_by else None,
        "worn_with": job.worn_with,
        "note": job.note,
    }
    money = {
        "currency": shop.currency,
        "tax_basis_points": shop.tax_basis_points,
        "tax_included": int(shop.tax_included),
    }
    kind = {"price_kind": shop.price_kind, "rounds_included": shop.rounds_included}
    ticket_id = tickets.add(store, act, customer_id, **columns, **money, **kind)
    return ticket_id, add_items(store, act, shop, ticket_id, job)


def _something(job: NewJob) -> None:
    if job.boots is None and not job.things:
        raise BadInput(
            "Say what is here: boots to stretch, or something else with its job.", field="boots"
        )
    if len(job.things) > MOST_THINGS:
        raise BadInput(
            f"A ticket holds {MOST_THINGS} other things. Open a second one for the rest.",
            field="things",
        )


def add_items(store: Store, act: Act, shop: Shop, ticket_id: int, job: NewJob) -> int | None:
    """The items of a job on a ticket that is there, inside a write; returns the fit of the
    boots.
    """
    used = len({one.letter for one in items.of_ticket(store, ticket_id)})
    fit_id = None
    if job.boots is not None:
        fit_id = _add_fit(store, act, shop, ticket_id, job)
        for side in job.boots.sides:
            item_id = _add_boot(store, act, ticket_id, fit_id, LETTERS[used], side, job.boots)
            _begin(store, act, item_id, job)
        used += 1
    for number, thing in enumerate(job.things):
        _begin(store, act, _add_thing(store, act, ticket_id, LETTERS[used + number], thing), job)
    return fit_id


def part_of_day(hour: int) -> str:
    """morning, midday or evening on the shop's clock: legs grow through the day."""
    return "morning" if hour < NOON else "midday" if hour < AFTERNOON else "evening"


def _customer(store: Store, act: Act, who: Who) -> int:
    if who.customer_id is not None:
        known_one = customers.get(store, who.customer_id)
        if who.email and who.email != known_one.email:  # what she says now holds
            erasing.mark_drafts(store, known_one.id)
            store.change("customers", known_one.id, known_one.version, email=who.email)
        return known_one.id
    phone = (who.phone.typed, who.phone.e164, who.phone.last4)
    return customers.add(store, act, who.name, phone, who.email)


def _add_fit(store: Store, act: Act, shop: Shop, ticket_id: int, job: NewJob) -> int:
    taken = {
        "unit": shop.unit,
        "limits": shop.limits,
        "hold_h": shop.hold_h,
        "max_rounds": shop.max_rounds,
    }
    return store.insert(
        "fits",
        ticket_id=ticket_id,
        **taken,
        over=job.worn_with or "skin",
        part_of_day=part_of_day(shop.local(act.at).hour),
    )


def _add_boot(
    store: Store, act: Act, ticket_id: int, fit_id: int, letter: str, side: str, boots: Boots
) -> int:
    own = [one for one in boots.seen if one.side == side]
    taken = guess(leather_of(store, boots.material), boots.lining)
    item_id = store.insert(
        "items",
        ticket_id=ticket_id,
        fit_id=fit_id,
        letter=letter,
        kind="boot",
        side=side,
        work="stretch",
        description=boots.description,
        material=boots.material,
        lining=boots.lining,
        closure=boots.closure,
        target=boots.target,
        state="expected",
        since=utc_text(act.at),
        age=_first((SIGHTS[one.word].age for one in own if one.word in SIGHTS), "sound"),
        signed_off=int(boots.signed_off),
        throat_um=boots.throat_um,
        **_measures(boots, taken),
        zip=_zip(boots, own, taken),
        elastic=_elastic(boots),
        rigid=_rigid(boots),
    )
    for one in own:
        findings.add(store, act, item_id, one.word, place=one.place)
    return item_id


def _measures(boots: Boots, taken: Guess) -> dict[str, int]:
    thickness = taken.thickness_um if boots.thickness_um is None else boots.thickness_um
    lining = taken.lining_um if boots.lining_um is None else boots.lining_um
    wall = thickness + lining if boots.wall_um is None else boots.wall_um
    return {"thickness_um": thickness, "lining_um": lining, "wall_um": wall}


def _zip(boots: Boots, own: Sequence[Seen], taken: Guess) -> str:
    if boots.closure != "zip":
        return ""
    states = [SIGHTS[one.word].zip_state for one in own if one.word in SIGHTS]
    state = "damaged" if "damaged" in states else "worn" if "worn" in states else "sound"
    band = taken.zip_band_um if boots.zip_band_um is None else boots.zip_band_um
    return json.dumps({"band_um": band, "from_um": ZIP_FROM_UM, "to_um": ZIP_TO_UM, "state": state})


def _elastic(boots: Boots) -> str:
    return (
        json.dumps({"width_um": boots.elastic_um, "from_um": 0, "to_um": ZIP_TO_UM})
        if boots.elastic_um
        else ""
    )


def _rigid(boots: Boots) -> str:
    strips: list[dict[str, Any]] = []
    if boots.backstay_um:
        strips.append(
            {"name": "backstay", "width_um": boots.backstay_um, "from_um": 0, "to_um": ZIP_TO_UM}
        )
    return json.dumps(strips)


def _add_thing(store: Store, act: Act, ticket_id: int, letter: str, thing: Thing) -> int:
    day = thing.promised_day.isoformat() if thing.promised_day else None
    return store.insert(
        "items",
        ticket_id=ticket_id,
        letter=letter,
        kind=thing.kind,
        work="other",
        description=thing.description,
        jobs=thing.jobs,
        promised_day=day,
        state="expected",
        since=utc_text(act.at),
    )


def _begin(store: Store, act: Act, item_id: int, job: NewJob) -> None:
    """What is here has arrived; what comes later is expected on its day."""
    if job.arrives is None:
        write_step(store, act, items.get(store, item_id), "arrive", Said(act.at))
    else:
        store.change("items", item_id, waits_for=job.arrives.isoformat())


def _first(words: Any, otherwise: str) -> str:
    return next((word for word in words if word), otherwise)
