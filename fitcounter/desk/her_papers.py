"""Her calendar on paper and in her phone: one sheet for the PDF, the phone's own calendar and the page to save."""

from __future__ import annotations

import hashlib
from dataclasses import dataclass
from datetime import UTC, date, datetime
from zoneinfo import ZoneInfo

from fitcounter.desk import aftercare, her_page
from fitcounter.desk.printing import paper_of
from fitcounter.desk.shop import Shop
from fitcounter.desk.speech import Speech, speech
from fitcounter.errors import NotFound
from fitcounter.fit.wear import Wear
from fitcounter.papers.calendar_ics import calendar_ics
from fitcounter.papers.calendar_pdf import calendar_pdf
from fitcounter.papers.calendar_records import CalendarSheet, WearLine
from fitcounter.papers.page import calendar_page
from fitcounter.papers.records import Paper
from fitcounter.store import customers, items
from fitcounter.store.database import Store

# Keys of the sheet and their English sentences, which are the keys of the other languages.
TEXTS = {
    "calendar": "Wearing in your boots",
    "put_on": "Put your boots on now",
    "take_off": "Take your boots off now",
    "why": "Short on purpose: the leather takes the shape of your leg in the first minutes, and rests afterwards.",
    "stop": "Take them off at once if your foot or leg tingles, goes numb, changes colour or hurts.",
    "ordinary": "Out to lunch in your boots",
    "ordinary_more": "See how they feel. If they are not right, bring them back.",
    "whole_day": "Your first whole day in them",
    "whole_day_more": "Take a second pair along, and take these off if they press.",
    "guarantee": "Last day of your guarantee",
    "guarantee_more": "If a boot has gone back, we hold it once more, free. A fuller leg is not covered.",
    "call": "Questions? Call {shop}, {phone}.",
}


@dataclass(frozen=True, slots=True)
class Made:
    """A file to send. mimetype: with its charset."""

    content: bytes
    mimetype: str


def make(store: Store, shop: Shop, token: str, now: datetime, form: str, language: str, paper: str = "") -> Made:
    """form: ics, pdf or html. paper: a4 or letter, else as the shop's country has it.

    Raises NotFound; Unavailable where no PDF can be made: the page to save is printed instead.
    """
    told = sheet(store, shop, token, now, language)
    say = speech(told.language).say
    if form == "ics":
        return Made(calendar_ics(told), "text/calendar; charset=utf-8; method=PUBLISH")
    if form == "html":
        return Made(calendar_page(told, say), "text/html; charset=utf-8")
    if form == "pdf":
        sizes: dict[str, Paper] = {"a4": "a4", "letter": "letter"}
        return Made(calendar_pdf(told, say, sizes.get(paper, paper_of(shop))), "application/pdf")
    raise NotFound("There is no such paper. Go back to your page.")


def sheet(store: Store, shop: Shop, token: str, now: datetime, language: str = "") -> CalendarSheet:
    """Raises NotFound for a link that opens nothing, or before there is a calendar."""
    ticket = her_page.find(store, token, now)
    found = aftercare.calendar(store, ticket.id, now)
    customer = customers.get(store, ticket.customer_id)
    words = speech(language or customer.language)
    held = items.of_ticket(store, ticket.id)
    return CalendarSheet(
        shop_name=shop.name,
        shop_phone=shop.phone,
        first_name=her_page.first_name(customer),
        language=words.code,
        zone=found.plan.zone,
        # from the hash of the link: the same for the life of the ticket, and nothing about her
        uid_seed=hashlib.sha256(f"calendar {token}".encode()).hexdigest()[:20],
        # days count too: a wear that was missed moves the dates although nobody wrote anything
        sequence=found.row.sequence + (found.plan.clock.day_of(now) - found.plan.clock.day_of(found.plan.picked_up)).days,
        stamped_at=now.astimezone(UTC),
        wears=tuple(_line(one, found.plan.clock.zone, words) for one in found.plan.wears),
        ordinary_from=found.plan.ordinary_from,
        first_whole_day=found.plan.first_whole_day,
        guarantee_end=date.fromisoformat(ticket.guarantee_end) if ticket.guarantee_end else None,
        texts={key: words.say(text, shop=shop.name, phone=shop.phone) for key, text in TEXTS.items()},
        what_boots_did=tuple(her_page.what_boots_did(store, held, shop.unit, words)),
    )


def _line(wear: Wear, zone: ZoneInfo, words: Speech) -> WearLine:
    start, end = (at.astimezone(zone).replace(tzinfo=None) for at in (wear.began, wear.ended))
    minutes = wear.minutes if wear.actual_minutes is None else wear.actual_minutes
    text = words.say("Wear {n}: {minutes} minutes", n=wear.n, minutes=wear.minutes) if wear.n else words.say("Worn once more")
    return WearLine(wear.n, start, end, minutes, wear.state, text)
