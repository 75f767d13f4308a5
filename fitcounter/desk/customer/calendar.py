"""The customer's calendar as one sheet: the page, the page to save, the paper and the phone's own
calendar are all made from it.
"""

from __future__ import annotations

import hashlib
from collections.abc import Sequence
from dataclasses import replace
from datetime import UTC, date, datetime

from fitcounter.desk.aftercare import wear_calendar
from fitcounter.desk.aftercare.wear_calendar import Calendar
from fitcounter.desk.common.link_token import link_key, link_token
from fitcounter.desk.common.translation import Speech, marked, speech, speech_at
from fitcounter.desk.customer import page as customer_page
from fitcounter.desk.customer.how_far_boots_came import what_boots_did
from fitcounter.desk.customer.on_hold_words import hold_words
from fitcounter.desk.customer.which_boot_may_be_worn import boot_lines, called_off
from fitcounter.desk.shop import Shop
from fitcounter.fit.wear.missed_wears import every_missed_day
from fitcounter.fit.wear.wear import Wear
from fitcounter.fit.wear.wear_plan import WearPlan
from fitcounter.papers.calendar_days import DayLine, day_lines
from fitcounter.papers.calendar_records import CalendarSheet, WearLine
from fitcounter.store import customers, items, tickets
from fitcounter.store.database import Store, utc_time
from fitcounter.store.records import Ticket

# By the boots that a calendar is for.
ON_FOR = {
    "": marked("Boots on for {length} ({n} of {steps})"),
    "left": marked("Left boot on for {length} ({n} of {steps})"),
    "right": marked("Right boot on for {length} ({n} of {steps})"),
}
# Keys of the sheet and their sentences.
TEXTS = {
    "calendar": marked("Wearing in your boots"),
    "put_on": marked("Put your boots on now"),
    "take_off": marked("Take your boots off now"),
    "why": marked(
        "Short on purpose: in the first minutes the leather takes the shape of your leg. Then it"
        " rests."
    ),
    "stop": marked(
        "Take your boots off at once if your foot or leg tingles, goes numb, changes color or"
        " hurts."
    ),
    "ordinary": marked("Out to lunch in your boots"),
    "ordinary_more": marked("See how they feel. If they are not right, bring them back."),
    "whole_day": marked("Your first whole day in your boots"),
    "whole_day_more": marked("Take a second pair along. If your boots press, change."),
    "guarantee": marked("Last day of your guarantee"),
    "guarantee_more": marked(
        "If a boot shrinks back, we stretch it again, free. A change in leg size is not covered."
    ),
    "call": marked("Questions? Call {shop}, {phone}."),
    "copy": marked("This copy does not follow when a day moves. Your page always has the days."),
}


def sheet(store: Store, shop: Shop, token: str, now: datetime, language: str = "") -> CalendarSheet:
    """The calendar at `now` (aware), in the language chosen, "" for the customer's own.

    Raises NotFound for a link that opens nothing, or before there is a calendar."""
    ticket = customer_page.ticket_of_link(store, token, now)
    calendar = wear_calendar.current(store, ticket.id, now)
    plan, things = calendar.plan, items.of_ticket(store, ticket.id)
    customer = customers.get(store, ticket.customer_id)
    words = speech_at(shop, language or customer.language)
    steps = len(plan.rules.minutes)
    hold = hold_words(store, shop, ticket.id, words)
    boots, days = boot_lines(things, plan, words), every_missed_day(plan, now)
    return CalendarSheet(
        shop_name=shop.name,
        shop_phone=shop.phone,
        first_name=customer_page.first_name(customer),
        language=words.locale,
        hours=words.hours,
        zone=plan.zone,
        uid_seed=_uid_seed(store, ticket),
        sequence=_sequence(calendar, ticket, now),
        stamped_at=_changed_at(store, ticket, calendar, now),
        wears=tuple(
            _line(wear, plan, steps, words) for wear in (held_back(days) if hold.headline else days)
        ),
        ordinary_from=plan.ordinary_from,
        first_whole_day=plan.first_whole_day,
        guarantee_end=date.fromisoformat(ticket.guarantee_end) if ticket.guarantee_end else None,
        texts={
            key: words.say(text, shop=shop.name, phone=shop.phone) for key, text in TEXTS.items()
        },
        what_boots_did=tuple(what_boots_did(store, things, shop.unit, words)),
        hold=hold.headline or called_off(things, plan, words),
        answer=tuple(part for part in (*boots, hold.answer, hold.note, hold.who) if part),
    )


def _uid_seed(store: Store, ticket: Ticket) -> str:
    """From the ticket's first link: the same for its life, whatever links come after, and says
    nothing.
    """
    first = link_token(link_key(store.path.parent), ticket)
    return hashlib.sha256(f"calendar {first}".encode()).hexdigest()[:20]


def held_back(wears: Sequence[Wear]) -> list[Wear]:
    """The log of a calendar on hold: nothing of it is to come."""
    return [replace(wear, state="off") if wear.state == "planned" else wear for wear in wears]


def lines(
    store: Store, shop: Shop, token: str, now: datetime, language: str = ""
) -> tuple[DayLine, ...]:
    """The days as the page shows them: the lines that are printed. Raises as `sheet`."""
    days = sheet(store, shop, token, now, language)
    return day_lines(days, speech(days.language).say)


def _sequence(calendar: Calendar, ticket: Ticket, now: datetime) -> int:
    """The sequence of the calendar's events: a phone passes over a lower number than it holds
    (RFC 5545 3.8.7.4).

    Days count too: a wear that was missed moves the dates although nobody wrote anything; from the
    ticket's first day, because a second pickup begins the plan anew.
    """
    clock = calendar.plan.clock
    days = clock.day_of(now) - clock.day_of(utc_time(ticket.opened_at))
    return calendar.row.sequence + days.days


def _changed_at(store: Store, ticket: Ticket, calendar: Calendar, now: datetime) -> datetime:
    """When the calendar became what it is: at the last act on its ticket, or as the day began."""
    zone = calendar.plan.clock.zone
    midnight = now.astimezone(zone).replace(hour=0, minute=0, second=0, microsecond=0)
    acts = [utc_time(str(act["at"])) for act in tickets.acts_on(store, ticket.id, 1)]
    return max([midnight, *(at for at in acts if at <= now)]).astimezone(UTC)


def _line(wear: Wear, plan: WearPlan, steps: int, words: Speech) -> WearLine:
    """The line of one wear. steps: how many wears there are in all."""
    zone = plan.clock.zone
    start, end = (at.astimezone(zone).replace(tzinfo=None) for at in (wear.began, wear.ended))
    minutes = wear.minutes if wear.actual_minutes is None else wear.actual_minutes
    if wear.n:
        length = words.minutes(wear.minutes)
        text = words.say(ON_FOR[plan.boots], length=length, n=wear.n, steps=steps)
    elif wear.state == "missed":
        text = words.say("Boots on for {length}", length=words.minutes(wear.minutes))
    else:
        text = words.say("Extra time in your boots")
    return WearLine(wear.n, start, end, minutes, wear.state, text)
