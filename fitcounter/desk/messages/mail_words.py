"""What an e-mail says, in the customer's language: subject, sentences, link, and how to stop."""

from __future__ import annotations

from datetime import date, datetime
from html import escape
from typing import NamedTuple

from fitcounter.desk.common.translation import Speech, marked, speech_at
from fitcounter.desk.customer.page import first_name
from fitcounter.desk.front_desk import calls_and_reminders, ticket_rows
from fitcounter.desk.messages import link_text
from fitcounter.desk.shop import Shop
from fitcounter.store import customers
from fitcounter.store.database import Store
from fitcounter.store.records import Ticket

SUBJECTS = {
    "claim": marked("Your order at {shop} (ticket {number})"),
    "late": marked("Your order will be late (ticket {number})"),
    "ready": marked("Ready to pick up (ticket {number})"),
    "calendar": marked("Wearing in your boots (ticket {number})"),
    "follow-up": marked("How do your boots feel?"),
    "guarantee": marked("Your guarantee ends soon (ticket {number})"),
}


class MailWords(NamedTuple):
    """subject: one line. plain, html: the same words twice. language: as "es"."""

    subject: str
    plain: str
    html: str
    language: str


def words_of(
    store: Store, shop: Shop, ticket: Ticket, kind: str, link: str, now: datetime
) -> MailWords:
    """The words of one e-mail. link: of the customer's page, "" where none opens at home."""
    customer = customers.get(store, ticket.customer_id)
    words = speech_at(shop, customer.language)
    subject = words.say(SUBJECTS[kind], shop=shop.name, number=ticket.number)
    body = _body(store, shop, ticket, kind, link, now)
    call = words.say("Questions? Call {shop}, {phone}.", shop=shop.name, phone=shop.phone)
    stop = _stop(link, words)
    plain = "\n\n".join((body, call, stop)) + "\n"
    return MailWords(" ".join(subject.split()), plain, _html(plain, link, words), words.code)


def _body(store: Store, shop: Shop, ticket: Ticket, kind: str, link: str, now: datetime) -> str:
    today = shop.today(now)
    if kind in ("late", "ready"):
        row = ticket_rows.row_of(store, ticket, shop, today)
        return calls_and_reminders.message(store, row, shop, now, link).words
    if kind in ("claim", "calendar"):
        return link_text.words_with(store, shop, ticket, link, today)
    customer = customers.get(store, ticket.customer_id)
    words = speech_at(shop, customer.language)
    greeting = words.say(
        "Hi {name}, this is {shop} about ticket {number}.",
        name=first_name(customer),
        shop=shop.name,
        number=ticket.number,
    )
    sentences = [greeting, *(_feel(words) if kind == "follow-up" else _ends(ticket, words))]
    if link:
        sentences.append(words.say("Your page: {link}", link=link))
    return " ".join(sentences)


def _feel(words: Speech) -> list[str]:
    return [
        words.say("How do your boots feel?"),
        words.say("If something does not feel right, leave them off and tell us."),
    ]


def _ends(ticket: Ticket, words: Speech) -> list[str]:
    end = date.fromisoformat(str(ticket.guarantee_end))
    return [
        words.say("Your guarantee ends on {day}.", day=words.day_of_year(end)),
        words.say("If a boot has shrunk back, bring it in before then."),
    ]


def _stop(link: str, words: Speech) -> str:
    if link:
        return words.say("No more e-mails: {link}", link=f"{link}/mail")
    return words.say("No more e-mails? Answer this one with the word STOP.")


def _html(plain: str, link: str, words: Speech) -> str:
    """The same words with links to tap: no picture, no script, nothing fetched."""
    parts = [escape(part) for part in plain.strip().split("\n\n")]
    if link:
        for address in (f"{link}/mail", link):
            shown = escape(address)
            parts = [_linked(part, shown) for part in parts]
    paragraphs = "".join(f"<p>{part}</p>" for part in parts)
    return (
        f'<!DOCTYPE html><html lang="{words.code}"><head><meta charset="utf-8"></head>'
        f"<body>{paragraphs}</body></html>\n"
    )


def _linked(part: str, shown: str) -> str:
    """An address at the end of a paragraph, to be tapped."""
    if not part.endswith(f" {shown}"):
        return part
    return f'{part[: -len(shown)]}<a href="{shown}">{shown}</a>'
