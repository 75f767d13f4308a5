"""The text that brings a customer the link of their page, in their language: after the agreement
and at any time later, and another after the boots went home.
"""

from __future__ import annotations

from datetime import date
from typing import NamedTuple

from fitcounter.desk.common import mail
from fitcounter.desk.common.contact import sms_link
from fitcounter.desk.common.translation import Speech, speech_at
from fitcounter.desk.customer.page import first_name
from fitcounter.desk.plan import ready_day
from fitcounter.desk.plan.ready_day import DayState
from fitcounter.desk.shop import Shop
from fitcounter.store import customers, tickets, wears
from fitcounter.store.database import Store
from fitcounter.store.records import Customer, Ticket


class LinkText(NamedTuple):
    """The words with the link, and what opens the phone's own apps with them.

    sms: an address that begins with sms:, "" without a number. email: as it stands after mailto:,
    "" without one.
    """

    words: str
    sms: str
    email: str


def link_text(store: Store, shop: Shop, ticket_id: int, link: str, today: date) -> LinkText | None:
    """The message that brings the link.

    link: the address of the customer's page; None comes out where it is "", or the customer was
    erased. Raises NotFound.
    """
    ticket = tickets.get(store, ticket_id)
    customer = customers.get(store, ticket.customer_id)
    if not link or customer.erased_at is not None:
        return None
    text = words_with(store, shop, ticket, link, today)
    phone = customer.phone_e164 or customer.phone_typed
    return LinkText(text, sms_link(phone, text), mail.in_link(customer.email))


def words_with(store: Store, shop: Shop, ticket: Ticket, link: str, today: date) -> str:
    """The message, with the link as its last word; without one, the rest of it."""
    customer = customers.get(store, ticket.customer_id)
    words = _words(store, shop, ticket, customer, today)
    return " ".join((*words, *([_ends_in(store, shop, ticket, customer, link)] if link else [])))


def _words(store: Store, shop: Shop, ticket: Ticket, customer: Customer, today: date) -> list[str]:
    """Who writes, about which ticket, and the day while the things are with the shop."""
    words, name = speech_at(shop, customer.language), first_name(customer)
    sentences = [
        words.say(
            "Hi {name}, this is {shop} about ticket {number}.",
            name=name,
            shop=shop.name,
            number=ticket.number,
        )
    ]
    if ticket.state == "open" and not ticket.handed_over_at:
        sentences += _day(store, shop, ticket, words, today)
    return sentences


def _day(store: Store, shop: Shop, ticket: Ticket, words: Speech, today: date) -> list[str]:
    when = ready_day.of_ticket(store, shop, ticket, today)
    if when.day is None or when.state not in (DayState.ON_TRACK, DayState.PROMISED):
        return []
    return [words.say("It should be ready on {day}.", day=words.day(when.day))]


def _ends_in(store: Store, shop: Shop, ticket: Ticket, customer: Customer, link: str) -> str:
    """The sentence with the link; nothing stands after it, so that no phone takes it into it."""
    words = speech_at(shop, customer.language)
    if wears.of_ticket(store, ticket.id) is not None:
        return words.say("Your wearing-in calendar: {link}", link=link)
    return words.say("See where your order is: {link}", link=link)
