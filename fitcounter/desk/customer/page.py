"""Her page: before pickup where each thing is, after it the calendar, later the guarantee.

First name only; no girth, no number.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, datetime

from fitcounter.desk.aftercare import wear_calendar
from fitcounter.desk.common.links import link_hash
from fitcounter.desk.common.translation import Speech, speech
from fitcounter.desk.customer import phrases
from fitcounter.desk.shop import Shop
from fitcounter.errors import Expired, NotFound
from fitcounter.fit import item_states
from fitcounter.fit.tape import say_inches, say_length
from fitcounter.fit.wear.wear import Wear
from fitcounter.fit.wear.wear_calendar import Due, WearPlan
from fitcounter.store import contacts, customers, items, rounds, tickets, wears
from fitcounter.store.database import Store, utc_text
from fitcounter.store.records import Customer, Item, Ticket

# What each state is to her. English, and the key of the other languages.
WHERE = {
    "expected": "still at home with you",
    "counter": "at our counter",
    "queued": "waiting for the bench",
    "working": "on the bench",
    "prepared": "being prepared",
    "on-tree": "on the tree",
    "resting": "resting after the tree",
    "to-decide": "measured again; we look at what comes next",
    "finishing": "being finished",
    "finished": "finished",
    "shelved": "ready for you",
    "out": "with you",
    "closed": "with you",
    "waiting": "waiting; we will call you",
    "stopped": "waiting; we will call you",
    "declined": "ready to go back to you as it came",
}

AFTER_A_LINK = tuple(".,;:!?)]>")


@dataclass(frozen=True, slots=True)
class Where:
    """One of her things: its name, where it is, and the day we expect it, all in her language."""

    name: str
    where: str
    day: str


@dataclass(frozen=True, slots=True)
class WearSeen:
    """One wear as she reads it.

    start_at: UTC text, for the page's timer. state: planned, worn, missed, moved or off.
    """

    n: int
    day: str
    clock: str
    minutes: int
    state: str
    start_at: str
    worn_minutes: int | None


@dataclass(frozen=True, slots=True)
class HerCalendar:
    """kind: wear, rest, ordinary, whole-day or over; wear: the one it speaks of; until: when the
    rest is over; day: today, local.

    steps: how many wears there are in all.
    """

    kind: str
    wear: WearSeen | None
    steps: int
    until: str
    day: date
    late_first_wear: bool
    hour: str


@dataclass(frozen=True, slots=True)
class HerPage:
    """here: whether anything of hers is with the shop, for the first time or back again. calendar:
    None before pickup and where the boots are back. expected: the day for all of it; hours: of the
    shop, in her language. told: she said that something does not feel right, and the shop has not
    answered yet.
    """

    ticket: Ticket
    first_name: str
    language: str
    things: tuple[Where, ...]
    all_ready: bool
    calendar: HerCalendar | None
    here: bool
    expected: str
    hours: str
    did: tuple[str, ...]
    guarantee_end: str
    covered: bool
    told: bool


def find(store: Store, token: str, now: datetime) -> Ticket:
    """The ticket behind a link. Raises NotFound with the same words for an unknown and a revoked
    link; Expired after its end.

    The mark of a sentence that a message program took for the end of the link is left out, once.
    """
    token = token[:-1] if token[-1:] in AFTER_A_LINK else token
    ticket = tickets.by_link(store, link_hash(token)) if 20 <= len(token) <= 30 else None
    if ticket is None or ticket.link_revoked_at is not None:
        raise NotFound(
            "This link opens nothing. Ask the shop for a new one; the number is on your claim"
            " check."
        )
    if ticket.link_until is not None and ticket.link_until < utc_text(now):
        raise Expired("This link has ended. Ask the shop for a new one if you need it.")
    return ticket


def look(store: Store, shop: Shop, token: str, now: datetime, language: str = "") -> HerPage:
    """Everything her page shows. language: chosen on the page, else the one the shop wrote down."""
    ticket = find(store, token, now)
    customer = customers.get(store, ticket.customer_id)
    words = speech(language or customer.language)
    held = items.of_ticket(store, ticket.id)
    here = any(one.state not in item_states.GONE for one in held)
    worn = any(one.state in item_states.GONE for one in held if one.work == "stretch")
    calendar = _calendar(store, ticket, now, words) if worn else None
    end = date.fromisoformat(ticket.guarantee_end) if ticket.guarantee_end else None
    return HerPage(
        ticket=ticket,
        first_name=first_name(customer),
        language=words.code,
        things=tuple(_where(one, ticket, shop.today(now), words) for one in held),
        all_ready=item_states.ready(one.state for one in held),
        calendar=None if calendar and here and calendar.kind == "over" else calendar,
        here=here,
        expected=_expected(held, ticket, shop.today(now), words),
        hours=phrases.head(shop, words).hours,
        did=tuple(what_boots_did(store, held, shop.unit, words)),
        guarantee_end=words.day(end) + f" {end.year}" if end else "",
        covered=end is not None and shop.today(now) <= end,
        told=any(
            one.kind == "not-right" and one.done_at is None
            for one in contacts.follow_ups_of_ticket(store, ticket.id)
        ),
    )


def first_name(customer: Customer) -> str:
    """The first word of the name: all of it that her page shows."""
    return customer.name.split()[0] if customer.name.split() else ""


def what_boots_did(store: Store, held: Sequence[Item], unit: str, words: Speech) -> list[str]:
    """'Left grew 9/16 in': from the first reading before a round to the last rested one that
    counts.
    """
    said = []
    for item in held:
        read = [one for one in rounds.of_item(store, item.id) if one.before_um is not None]
        counted = [one for one in read if one.rested_um is not None and one.rested_counts]
        if not counted or counted[-1].rested_method not in ("", read[0].method):
            continue
        grew_mm = (
            ((counted[-1].rested_um or 0) - (read[0].before_um or 0))
            / 1000
            * (2 if read[0].method == "flat" else 1)
        )
        if grew_mm > 0:
            size = f"{say_inches(grew_mm)} in" if unit == "in" else say_length(grew_mm, unit)
            sentence = (
                "The left boot grew {size}."
                if item.side == "left"
                else "The right boot grew {size}."
            )
            said.append(words.say(sentence, size=size))
    return said


def _where(item: Item, ticket: Ticket, today: date, words: Speech) -> Where:
    name = phrases.NAMES.get(
        (item.kind, item.side), phrases.NAMES.get((item.kind, None), "Other work")
    )
    day = item.promised_day or ticket.promise_day
    expected = (
        day
        and day >= today.isoformat()
        and item.state not in (*item_states.READY, *item_states.GONE)
    )
    return Where(
        words.say(name),
        words.say(WHERE[item.state]),
        words.day(date.fromisoformat(day)) if expected and day else "",
    )


def _expected(held: Sequence[Item], ticket: Ticket, today: date, words: Speech) -> str:
    """The day by which all that is still to be done is expected; "" where there is none, it is
    past, or nothing is to be done.
    """
    open_items = [one for one in held if one.state not in (*item_states.READY, *item_states.GONE)]
    days = [one.promised_day or ticket.promise_day for one in open_items]
    known = [day for day in days if day and day >= today.isoformat()]
    return words.day(date.fromisoformat(max(known))) if known and len(known) == len(days) else ""


def _calendar(store: Store, ticket: Ticket, now: datetime, words: Speech) -> HerCalendar | None:
    if wears.of_ticket(store, ticket.id) is None:
        return None
    found = wear_calendar.current(store, ticket.id, now)
    plan, due = found.plan, found.due
    return HerCalendar(
        kind=due.kind,
        wear=_wear(due.wear, plan, words) if due.wear else None,
        steps=len(plan.rules.minutes),
        until=_until(due, plan, words),
        day=plan.clock.day_of(now),
        late_first_wear="late-first-wear" in plan.notes,
        hour=f"{plan.hour:02}:{plan.minute:02}",
    )


def _wear(wear: Wear, plan: WearPlan, words: Speech) -> WearSeen:
    local = wear.began.astimezone(plan.clock.zone)
    return WearSeen(
        wear.n,
        words.day(wear.local_day),
        words.clock(local),
        wear.minutes,
        wear.state,
        utc_text(wear.start),
        wear.actual_minutes,
    )


def _until(due: Due, plan: WearPlan, words: Speech) -> str:
    if due.until is None:
        return ""
    local = due.until.astimezone(plan.clock.zone)
    return f"{words.day(local.date())}, {words.clock(local)}"
