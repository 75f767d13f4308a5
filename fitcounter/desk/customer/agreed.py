"""What was agreed, for the customer: what is done, for how much, what is paid and still owed."""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple

from fitcounter.desk.common import money
from fitcounter.desk.common.translation import Speech, speech_at
from fitcounter.desk.customer import phrases
from fitcounter.desk.shop import Shop
from fitcounter.store import bills, tickets
from fitcounter.store.database import Store
from fitcounter.store.records import Payment, Ticket


class AgreedPage(NamedTuple):
    """rows: what for and how much, as printed; total, due: "" where there is none; paid: as what
    (deposit, payment, refund) and how much; credit: what the shop owes. signed: whether there is a
    copy of the agreement.
    """

    rows: tuple[tuple[str, str], ...]
    total: str
    paid: tuple[tuple[str, str], ...]
    due: str
    credit: str
    signed: bool


def agreed_page(store: Store, shop: Shop, ticket: Ticket, language: str) -> AgreedPage:
    """The bill of a ticket as it stands, in the language of the page."""
    words = speech_at(shop, language)
    lines, payments = bills.lines(store, ticket.id), bills.payments(store, ticket.id)
    sums = money.sums(ticket, lines, payments)
    rows = [
        (phrases.line_of(one, words), _amount(one.quantity * one.amount_minor, ticket, words))
        for one in lines
    ]
    if sums.tax_minor and not ticket.tax_included:
        rows.append((words.say("Tax"), _amount(sums.tax_minor, ticket, words)))
    return AgreedPage(
        tuple(rows),
        _amount(sums.total_minor, ticket, words) if lines else "",
        tuple(
            (words.say(phrases.PAID[kind]), _amount(_sum_of(kind, payments), ticket, words))
            for kind in phrases.PAID
            if any(one.kind == kind for one in payments)
        ),
        _amount(max(sums.due_minor, 0), ticket, words) if lines else "",
        _amount(-sums.due_minor, ticket, words) if sums.due_minor < 0 else "",
        bool(tickets.consents(store, ticket.id)),
    )


def _sum_of(kind: str, payments: Sequence[Payment]) -> int:
    return sum(money.signed(one) for one in payments if one.kind == kind)


def _amount(minor: int, ticket: Ticket, words: Speech) -> str:
    return money.say(minor, ticket.currency, words)
