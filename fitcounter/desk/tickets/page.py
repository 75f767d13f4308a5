"""One ticket as its page shows it: whose, what is on it and where it stands, the money, and what
comes next.
"""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date
from typing import NamedTuple

from fitcounter.desk.assessment.job import measured
from fitcounter.desk.bench import other_work
from fitcounter.desk.common import item_words, money, seen_at_intake, thing_names
from fitcounter.desk.common.translation import say, spoken
from fitcounter.desk.plan.ready_day import HELD, promised_day
from fitcounter.desk.quote.offer import WAITING
from fitcounter.desk.tickets import cancel as tickets_cancel
from fitcounter.desk.tickets import payments as tickets_payments
from fitcounter.desk.tickets.cancel_page import may_cancel
from fitcounter.fit import item_states
from fitcounter.fit.tagcode import show_code
from fitcounter.store import (
    bills,
    contacts,
    customers,
    findings,
    fits,
    items,
    readings,
    staff,
    tags,
    tickets,
    tills,
)
from fitcounter.store.database import Store
from fitcounter.store.records import Consent, Customer, Item, Payment, PriceLine, Ticket
from fitcounter.store.tills import HandoverRow


class TicketItem(NamedTuple):
    """One item: its name and state in words, its tag's code as printed ('' without one), what we
    saw on it. work: on it beside the stretching, in words.
    """

    item: Item
    name: str
    state: str
    code: str
    seen: tuple[str, ...]
    may_cancel: bool
    work: tuple[str, ...]


class TicketPage(NamedTuple):
    """to_measure, to_answer: fits that wait for the tape, for an answer. to_agree: something waits
    for the customer's yes.

    legs_read: a leg was measured for one of its pairs. all_ready: all that is still here is ready.
    takes_money: a payment may be saved on it. initials: of who took what was paid, by their ids.

    first_promise: the day that was promised before any was moved. promised: the first day of what
    is still here and not ready.

    may_cancel: something on it can be cancelled. cancelled: what was cancelled last and can be
    undone, in words. may_change_price: a price was agreed. handovers: what was picked up, by whom.
    """

    ticket: Ticket
    customer: Customer
    entries: tuple[TicketItem, ...]
    lines: tuple[PriceLine, ...]
    payments: tuple[Payment, ...]
    sums: money.Sums
    consents: tuple[Consent, ...]
    to_measure: tuple[int, ...]
    to_answer: tuple[int, ...]
    to_agree: bool
    legs_read: bool
    all_ready: bool
    takes_money: bool
    initials: dict[int, str]
    first_promise: str | None
    promised: date | None
    may_cancel: bool
    cancelled: str
    may_change_price: bool
    handovers: tuple[HandoverRow, ...]


def look(store: Store, ticket_id: int) -> TicketPage:
    """Raises NotFound."""
    ticket = tickets.get(store, ticket_id)
    held = items.of_ticket(store, ticket_id)
    lines, payments = bills.lines(store, ticket_id), bills.payments(store, ticket_id)
    waiting = [one for one in held if one.state in WAITING]
    open_fits = list(
        dict.fromkeys(
            one.fit_id for one in waiting if one.fit_id is not None and one.work == "stretch"
        )
    )
    read = {fit_id: bool(measured(store, fits.boots(store, fit_id))) for fit_id in open_fits}
    customer = customers.get(store, ticket.customer_id)
    here = [one for one in held if one.state not in item_states.GONE]
    people = {one.id: one.initials for one in staff.with_former(store)} if payments else {}
    return TicketPage(
        ticket,
        customer,
        tuple(_entry(store, one) for one in held),
        tuple(lines),
        tuple(payments),
        money.sums(ticket, lines, payments),
        tuple(tickets.consents(store, ticket_id)),
        tuple(fit_id for fit_id in open_fits if not read[fit_id]),
        tuple(fit_id for fit_id in open_fits if read[fit_id]),
        bool(waiting) and all(read.values()),
        any(readings.legs(store, one.id) for one in fits.of_ticket(store, ticket_id)),
        item_states.ready(one.state for one in held),
        tickets_payments.takes_money(customer, lines, payments),
        people,
        contacts.said_before(store, ticket),
        _promised(ticket, here or held),
        any(may_cancel(one) for one in held) and ticket.state == "open",
        spoken().listed([name_of(one) for one in tickets_cancel.last_cancelled(store, ticket_id)]),
        tickets_payments.takes_money(customer, lines, ()),
        tuple(tills.handovers(store, ticket_id)),
    )


def _promised(ticket: Ticket, held: Sequence[Item]) -> date | None:
    """The first day that is still to be kept; of what is all ready, the last."""
    days = {one: day for one in held if (day := promised_day(one, ticket)) is not None}
    to_keep = [day for one, day in days.items() if not item_states.ready([one.state])]
    return min(to_keep) if to_keep else max(days.values(), default=None)


def name_of(item: Item) -> str:
    """Left boot, Bag: what an item is called in a list; other work by its own words."""
    own = item.description.capitalize() if item.kind == "other" else ""
    return own or say(thing_names.name_of(item))


def _entry(store: Store, item: Item) -> TicketItem:
    tag = tags.of_item(store, item.id)
    words = tuple(
        say("{finding}, {place}", finding=say(seen_at_intake.say(one.word)), place=one.place)
        if one.place
        else say(seen_at_intake.say(one.word))
        for one in findings.of_item(store, item.id)
    )
    return TicketItem(
        item,
        name_of(item),
        item_words.stands(item, findings.problems(store, [item]).get(item.id, ""))
        if item.state in HELD
        else item_words.state_of(item),
        show_code(tag.code) if tag else "",
        words,
        may_cancel(item),
        tuple(one.words for one in other_work.of_item(store, item)),
    )
