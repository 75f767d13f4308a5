"""The customer's page: first where each thing is, after pickup the calendar, then the guarantee.

Of a person it holds the first name only: no girth, no phone number.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, datetime
from typing import NamedTuple

from fitcounter.desk.common.countries import emergency
from fitcounter.desk.common.link_token import link_hash
from fitcounter.desk.common.thing_names import name_of
from fitcounter.desk.common.translation import Speech, marked, say, speech_at
from fitcounter.desk.customer import phrases
from fitcounter.desk.customer.calendar_today import CalendarToday, calendar_today, plan_of
from fitcounter.desk.customer.how_far_boots_came import what_boots_did
from fitcounter.desk.customer.on_hold_words import HoldWords, hold_words
from fitcounter.desk.customer.open_now import opening_words
from fitcounter.desk.customer.which_boot_may_be_worn import boot_lines
from fitcounter.desk.plan.ready_day import ReadyDays, ready_days
from fitcounter.desk.shop import Shop
from fitcounter.errors import Expired, NotFound
from fitcounter.fit import item_states
from fitcounter.store import contacts, customers, items, tickets
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
WITH_US_CANCELLED = marked("Cancelled. Ready to pick up.")
USUAL = "en"  # what a customer has for whom nobody chose a language
AFTER_A_LINK = tuple(".,;:!?)]>")


class ThingLine(NamedTuple):
    """One thing that was handed in: its name, where it is, and the day it is expected, "" where
    none is, all in the customer's language.
    """

    name: str
    where: str
    day: str


@dataclass(frozen=True, slots=True)
class CustomerPage:
    """All that the customer's page shows.

    declined: "all" or "some" of what is still here could not be done, else "".
    calendar: None before pickup and where the boots are back. here: whether anything is with the
    shop, for the first time or back again. expected: the day for all of it. slip:
    what is said where the promised day may not be kept. hours: of the shop, in the customer's
    language. did: what the boots did, in sentences. covered: by the guarantee,
    today. hold: what the shop says of boots that do not feel right. boots: for each
    boot whether to wear it, where they differ. opening: open until when, or
    when next. emergency: the number of an ambulance in the shop's country. own_language: what the
    shop wrote down.
    """

    ticket: Ticket
    first_name: str
    language: str
    things: tuple[ThingLine, ...]
    all_ready: bool
    declined: str
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
    own_language: str


def no_such_link() -> str:
    """The same words for a link that never was, is mistyped or was taken back."""
    return say(
        "This link does not work. Ask the shop for a new one; the phone number is on your claim"
        " check."
    )


def ticket_of_link(store: Store, token: str, now: datetime) -> Ticket:
    """The ticket behind a link. Raises NotFound with the same words for an unknown and a revoked
    link; Expired after its end.

    A full stop or comma that a message program took for the end of the link is left out, once.
    """
    token = token[:-1] if token[-1:] in AFTER_A_LINK else token
    ticket = tickets.by_link(store, link_hash(token)) if 20 <= len(token) <= 30 else None
    if ticket is None or ticket.link_revoked_at is not None:
        raise NotFound(no_such_link())
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
    calendar = calendar_today(store, ticket, now, words) if worn else None
    days = ready_days(store, shop, shop.today(now), [ticket.id])
    when = days.of_ticket(ticket, things)
    end = date.fromisoformat(ticket.guarantee_end) if ticket.guarantee_end else None
    return CustomerPage(
        ticket=ticket,
        first_name=first_name(customer),
        language=words.code,
        things=tuple(_line(item, ticket, things, days, words) for item in things),
        all_ready=item_states.ready(item.state for item in things),
        declined=_declined(things),
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
        own_language=customer.language,
    )


def first_name(customer: Customer) -> str:
    """The first word of the name: all of it that the page shows."""
    return customer.name.split()[0] if customer.name.split() else ""


def _declined(things: Sequence[Item]) -> str:
    """Whether "all" or "some" of what is still at the shop could not be done, else ""."""
    here = [item.state for item in things if item.state not in item_states.GONE]
    if "declined" not in here:
        return ""
    return "all" if set(here) == {"declined"} else "some"


def _line(
    item: Item, ticket: Ticket, held: Sequence[Item], days: ReadyDays, words: Speech
) -> ThingLine:
    day = days.of_item(item, ticket, held).day
    return ThingLine(
        words.say(name_of(item)), words.say(_where(item)), words.day(day) if day else ""
    )


def _where(item: Item) -> str:
    """Where a thing is, to the customer."""
    if item.state == "declined" and item.cancelled:
        return WITH_US_CANCELLED if item.cancelled == "customer" else WHERE["declined"]
    return WHERE[item.state]
