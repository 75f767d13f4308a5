"""The customer's page: first where each thing is, after pickup the calendar, then the guarantee.

Of a person it holds the first name only: no girth, no phone number.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, datetime, time

from fitcounter.desk.aftercare import wear_calendar
from fitcounter.desk.bench.ready_day import ReadyDays, ready_days
from fitcounter.desk.common.countries import emergency
from fitcounter.desk.common.links import link_hash
from fitcounter.desk.common.thing_names import name_of
from fitcounter.desk.common.translation import Speech, marked, say, speech_at
from fitcounter.desk.customer import phrases
from fitcounter.desk.customer.boots_gave import what_boots_did
from fitcounter.desk.customer.boots_home import boot_lines
from fitcounter.desk.customer.hold import HoldWords, hold_words
from fitcounter.desk.customer.opening import opening_words
from fitcounter.desk.shop import Shop
from fitcounter.errors import Expired, NotFound
from fitcounter.fit import item_states
from fitcounter.fit.handbook.wearing import SLIPPED_DAYS
from fitcounter.fit.wear.wear import Wear
from fitcounter.fit.wear.wear_changes import has_slipped
from fitcounter.fit.wear.wear_plan import Due, WearPlan
from fitcounter.store import contacts, customers, items, tickets, wears
from fitcounter.store.database import Store, utc_text
from fitcounter.store.records import Customer, Item, Ticket

# What each state is to the customer.
WHERE = {
    "expected": marked("Still at home with you."),
    "counter": marked("At our counter."),
    "queued": marked("At the shop, next in line."),
    "working": marked("Being worked on."),
    "prepared": marked("Being prepared."),
    "on-tree": marked("On the stretcher."),
    "resting": marked("Resting after the stretcher."),
    "to-decide": marked("Measured again. We are deciding what comes next."),
    "finishing": marked("Getting the finishing touches."),
    "finished": marked("The work is done."),
    "shelved": marked("Ready to pick up."),
    "out": marked("With you."),
    "closed": marked("With you."),
    "waiting": marked("On hold. We will call you."),
    "stopped": marked("On hold. We will call you."),
    "declined": marked("We could not do this. Ready to pick up."),
}
UNDO = {
    "wear": marked("Undo: I did not wear them"),
    "wear-moved": marked("Undo: I can wear them today"),
    "wear-hour": marked("Undo: keep the old time"),
    "wear-zone": marked("Undo: keep the old time"),
}

MIDNIGHT = time()
USUAL = "en"  # what a customer has for whom nobody chose a language
AFTER_A_LINK = tuple(".,;:!?)]>")


@dataclass(frozen=True, slots=True)
class ThingLine:
    """One thing that was handed in: its name, where it is, and the day it is expected, "" where
    none is, all in the customer's language.
    """

    name: str
    where: str
    day: str


@dataclass(frozen=True, slots=True)
class WearEntry:
    """One wear of the calendar, in the customer's language.

    length: the minutes in words. start_at: UTC text, for the page's timer. state: planned, worn,
    missed, moved or off.
    """

    n: int
    day: str
    clock: str
    minutes: int
    length: str
    state: str
    start_at: str


@dataclass(frozen=True, slots=True)
class CalendarToday:
    """What the wearing-in calendar asks for now.

    kind: wear, rest, ordinary, whole-day, over or hold. wear: the one it speaks of. steps: how many
    wears there are in all. until_day, until_time: when the rest is over, the time "" where that is
    midnight. day: today, shop-local. hour: of the day for the wears, "18:00", in zone. worn: the
    steps worn already, "1 2". boots: left or right where it is for one alone, else "".
    undo: what the last change was, "" where it cannot be undone. slipped: a week without a wear.
    """

    kind: str
    wear: WearEntry | None
    steps: int
    until_day: str
    until_time: str
    day: date
    late_first_wear: bool
    hour: str
    zone: str
    worn: str
    boots: str
    undo: str
    slipped: bool


@dataclass(frozen=True, slots=True)
class CustomerPage:
    """All that the customer's page shows.

    calendar: None before pickup and where the boots are back. here: whether anything is with the
    shop, for the first time or back again. expected: the day for all of it. slip:
    what is said where the promised day may not be kept. hours: of the shop, in the customer's
    language. did: what the boots did, in sentences. covered: by the guarantee,
    today. hold: what the shop says of boots that do not feel right. boots: for each
    boot whether to wear it, where they differ. opening: open until when, or
    when next. emergency: the number of an ambulance in the shop's country.
    """

    ticket: Ticket
    first_name: str
    language: str
    things: tuple[ThingLine, ...]
    all_ready: bool
    calendar: CalendarToday | None
    here: bool
    expected: str
    slip: str
    hours: str
    did: tuple[str, ...]
    guarantee_end: str
    covered: bool
    hold: HoldWords
    boots: tuple[str, ...]
    opening: str
    emergency: str


def ticket_of_link(store: Store, token: str, now: datetime) -> Ticket:
    """The ticket behind a link. Raises NotFound with the same words for an unknown and a revoked
    link; Expired after its end.

    A full stop or comma that a message program took for the end of the link is left out, once.
    """
    token = token[:-1] if token[-1:] in AFTER_A_LINK else token
    ticket = tickets.by_link(store, link_hash(token)) if 20 <= len(token) <= 30 else None
    if ticket is None or ticket.link_revoked_at is not None:
        raise NotFound(
            say(
                "This link does not work. Ask the shop for a new one; the phone number is on your"
                " claim check."
            )
        )
    if ticket.link_until is not None and ticket.link_until < utc_text(now):
        raise Expired(say("This link has ended. Ask the shop for a new one."))
    return ticket


def language_of_link(store: Store, token: str, now: datetime, phone: str) -> str:
    """The language in which a link speaks first, where none was chosen on its page.

    It is the one that the shop wrote down for the customer; where that is the usual one, `phone`'s,
    "" for a phone that names none of ours. Raises as `ticket_of_link`.
    """
    ticket = ticket_of_link(store, token, now)
    written = customers.get(store, ticket.customer_id).language
    return phone if phone and written == USUAL else written


def page_of_link(
    store: Store, shop: Shop, token: str, now: datetime, language: str = ""
) -> CustomerPage:
    """The page behind a link at `now` (aware).

    language: chosen on the page, "" for the one the shop wrote down. Raises as `ticket_of_link`.
    """
    ticket = ticket_of_link(store, token, now)
    customer = customers.get(store, ticket.customer_id)
    words = speech_at(shop, language or customer.language)
    things = items.of_ticket(store, ticket.id)
    here = any(item.state not in item_states.GONE for item in things)
    worn = any(item.state in item_states.GONE for item in things if item.work == "stretch")
    calendar = _calendar(store, ticket, now, words) if worn else None
    days = ready_days(store, shop, shop.today(now), ticket.id)
    when = days.of_ticket(ticket, things)
    end = date.fromisoformat(ticket.guarantee_end) if ticket.guarantee_end else None
    return CustomerPage(
        ticket=ticket,
        first_name=first_name(customer),
        language=words.code,
        things=tuple(_line(item, ticket, things, days, words) for item in things),
        all_ready=item_states.ready(item.state for item in things),
        calendar=None if calendar and here and calendar.kind == "over" else calendar,
        here=here,
        expected=words.day(when.day) if when.day else "",
        slip=phrases.slip(when, contacts.said_before(store, ticket), words),
        hours=phrases.head(shop, words).hours,
        did=tuple(what_boots_did(store, things, shop.unit, words)),
        guarantee_end=words.day_of_year(end) if end else "",
        covered=end is not None and shop.today(now) <= end,
        hold=hold_words(store, shop, ticket.id, words),
        boots=boot_lines(things, plan_of(store, ticket.id, now), words),
        opening=opening_words(store, shop, now, words),
        emergency=emergency(shop.country),
    )


def first_name(customer: Customer) -> str:
    """The first word of the name: all of it that the page shows."""
    return customer.name.split()[0] if customer.name.split() else ""


def _line(
    item: Item, ticket: Ticket, held: Sequence[Item], days: ReadyDays, words: Speech
) -> ThingLine:
    day = days.of_item(item, ticket, held).day
    return ThingLine(
        words.say(name_of(item)), words.say(WHERE[item.state]), words.day(day) if day else ""
    )


def _calendar(store: Store, ticket: Ticket, now: datetime, words: Speech) -> CalendarToday | None:
    if wears.of_ticket(store, ticket.id) is None:
        return None
    calendar = wear_calendar.current(store, ticket.id, now)
    plan, due = calendar.plan, calendar.due
    until_day, until_time = _until(due, plan, words)
    last = wear_calendar.last_change(calendar.row, now)
    return CalendarToday(
        kind=due.kind,
        wear=_wear(due.wear, plan, words) if due.wear else None,
        steps=len(plan.rules.minutes),
        until_day=until_day,
        until_time=until_time,
        day=plan.clock.day_of(now),
        late_first_wear="late-first-wear" in plan.notes,
        hour=f"{plan.hour:02}:{plan.minute:02}",
        zone=plan.zone,
        worn=" ".join(str(wear.n) for wear in plan.wears if wear.state == "worn" and wear.n),
        boots=plan.boots,
        undo=words.say(UNDO[last.event]) if last and last.event in UNDO else "",
        slipped=_asks_again(store, ticket.id, plan, now),
    )


def plan_of(store: Store, ticket_id: int, now: datetime) -> WearPlan | None:
    """The calendar as it stands, None before there is one."""
    if wears.of_ticket(store, ticket_id) is None:
        return None
    return wear_calendar.current(store, ticket_id, now).plan


def _asks_again(store: Store, ticket_id: int, plan: WearPlan, now: datetime) -> bool:
    """Whether the plan slipped a week, and nobody has said yet how to go on."""
    said = (wear_calendar.SLIPPED_AGAIN, wear_calendar.SLIPPED_ON)
    today = plan.clock.day_of(now)
    answered = any(
        one.said in said and (today - date.fromisoformat(one.due_day)).days < SLIPPED_DAYS
        for one in contacts.follow_ups_of_ticket(store, ticket_id)
    )
    return has_slipped(plan, now) and not answered


def _wear(wear: Wear, plan: WearPlan, words: Speech) -> WearEntry:
    local = wear.began.astimezone(plan.clock.zone)
    return WearEntry(
        wear.n,
        words.day(wear.local_day),
        words.clock(local),
        wear.minutes,
        words.minutes(wear.minutes),
        wear.state,
        utc_text(wear.start),
    )


def _until(due: Due, plan: WearPlan, words: Speech) -> tuple[str, str]:
    if due.until is None:
        return "", ""
    local = due.until.astimezone(plan.clock.zone)
    return words.day(local.date()), words.clock(local) if local.time() != MIDNIGHT else ""
