"""Telling customers: who is to be called, in which words, and how it went. Nothing is sent by the program itself."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, timedelta
from decimal import Decimal

from babel.numbers import format_currency, get_currency_precision

from fitcounter.desk.lists import Row
from fitcounter.desk.shop import Shop
from fitcounter.desk.speech import speech
from fitcounter.errors import BadInput
from fitcounter.store import tickets
from fitcounter.store.database import Act, Store, Written, utc_text

HOW = {
    "called": "Called, she knows", "left-word": "Left word", "no-answer": "No answer", "text": "Text sent", "e-mail": "E-mail sent",
    "letter": "Letter sent",
}  # fmt: skip
# After how many days it comes back on the list by itself; None where she knows: then the shop's own reminder days count.
AGAIN_DAYS = {"no-answer": 1, "left-word": 3, "text": 3, "e-mail": 4, "letter": 14}


@dataclass(frozen=True, slots=True)
class Message:
    """The words to say or send, and the addresses that open the phone's own apps with them."""

    words: str
    phone: str
    email: str


def message(row: Row, shop: Shop) -> Message:
    """The answer sentence in her language: what is ready, where, until when the shop is open, what she owes."""
    words = speech(row.customer.language)
    name = row.customer.name.split()[0]
    owes = words.say("You owe {sum}.", sum=money_words(row.due_minor, row.ticket.currency, shop)) if row.due_minor > 0 else ""
    text = words.say(
        "Hello {name}, everything is ready for you at {shop}, number {number}. We are open until {hour}.",
        name=name, shop=shop.name, number=row.ticket.number, hour=shop.closes_at,
    )  # fmt: skip
    return Message(" ".join(part for part in (text, owes) if part), row.customer.phone_e164 or row.customer.phone_typed, row.customer.email)


def money_words(minor: int, currency: str, shop: Shop) -> str:
    """Minor units as a sum in words of the shop's locale."""
    return format_currency(Decimal(minor).scaleb(-get_currency_precision(currency)), currency, locale=shop.locale)


def keep(store: Store, act: Act, shop: Shop, ticket_id: int, how: str, note: str = "", about: str = "ready") -> Written:
    """How a call went. No answer comes back tomorrow; she knows: the shop's first reminder day. Raises BadInput."""
    if how not in HOW:
        raise BadInput("Pick how it went: she knows, left word, or no answer.", typed=how, field="how")
    today = shop.today(act.at)
    again = today + timedelta(days=AGAIN_DAYS.get(how) or (shop.reminders_days[0] if shop.reminders_days else 7))

    def write() -> Written:
        ticket = tickets.get(store, ticket_id)
        row = {"ticket_id": ticket.id, "at": utc_text(act.at), "about": about, "how": how, "again_day": again.isoformat()}
        row_id = store.insert("calls", **row, staff_id=act.staff_id, note=note)
        return Written(ticket.id, row_id=row_id, detail={"how": how, "again": again.isoformat()})

    return store.once(act, "call", write)


def not_fetched(rows: list[Row], shop: Shop, today: date) -> list[tuple[Row, int]]:
    """All here and not fetched for at least the first reminder day, with the days since it was ready."""
    first = shop.reminders_days[0] if shop.reminders_days else 7
    aged = []
    for row in rows:
        if row.ready and row.items:
            since = max(date.fromisoformat(one.since[:10]) for one in row.items)
            if (today - since).days >= first:
                aged.append((row, (today - since).days))
    return sorted(aged, key=lambda one: -one[1])
