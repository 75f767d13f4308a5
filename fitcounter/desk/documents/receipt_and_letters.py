"""Papers of one ticket beyond the counter's: the receipt with the guarantee, the leg card, a notice
letter; all in the customer's language.
"""

from __future__ import annotations

import json
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, datetime
from pathlib import Path
from typing import TYPE_CHECKING

from fitcounter.desk.common import money
from fitcounter.desk.common.link_token import link_of
from fitcounter.desk.common.translation import Speech, say, speech_at
from fitcounter.desk.customer import page as customer_page
from fitcounter.desk.customer import phrases
from fitcounter.desk.customer.how_far_boots_came import what_boots_did
from fitcounter.desk.documents import paper_sizes
from fitcounter.desk.documents.claim_check_and_tags import charges_of, tax_included
from fitcounter.desk.front_desk import ticket_rows
from fitcounter.desk.shop import Shop
from fitcounter.desk.tickets.payments import METHODS
from fitcounter.errors import NotFound
from fitcounter.fit import item_states
from fitcounter.fit.handbook.leg import EASE
from fitcounter.fit.tape import say_length, sixteenths_nearest, write_plain
from fitcounter.papers import claim_check, letters
from fitcounter.papers.records import Charge, LegCard, LegRow, NoticeLetter, Receipt, Shows
from fitcounter.store import (
    bills,
    contacts,
    customers,
    fits,
    items,
    readings,
    tickets,
    tills,
    wears,
    works,
)
from fitcounter.store.database import Store, utc_time
from fitcounter.store.records import Fit, Item, LegReading, Payment, Ticket
from fitcounter.store.tills import HandoverRow

if TYPE_CHECKING:
    from fitcounter.papers.pdf import Press


@dataclass(frozen=True, slots=True)
class ReceiptOf:
    """Of one payment, or of one handing over; of all that was picked up where neither is named."""

    payment_id: int | None = None
    handover_id: int | None = None


def receipt(
    store: Store,
    shop: Shop,
    ticket_id: int,
    address: tuple[str, Path],
    made_by: Press,
    of: ReceiptOf = ReceiptOf(),
) -> bytes:
    """address: the shop's own, and the folder with the key of its links. Raises NotFound: no such
    payment or handing over, nothing picked up yet.
    """
    ticket = tickets.get(store, ticket_id)
    payment = _payment(store, ticket_id, of.payment_id)
    handover = _handover(store, ticket, of)
    if ticket.handed_over_at is None and payment is None and handover is None:
        raise NotFound(say("Nothing is picked up yet. The receipt comes with pickup."))
    customer = customers.get(store, ticket.customer_id)
    listed, paid = bills.lines(store, ticket_id), bills.payments(store, ticket_id)
    total = money.sums(ticket, listed, paid)
    words = speech_at(shop, customer.language)
    everything = items.of_ticket(store, ticket_id)
    held = _of_handover(everything, handover)
    record = Receipt(
        shop=phrases.head(shop, words),
        number=str(ticket.number),
        customer=customer.name,
        handed_over_on=_handed_on(ticket, payment, handover, shop),
        items=phrases.item_lines(held, words, works.lines_of_ticket(store, ticket_id)),
        charges=charges_of(ticket, listed, total.tax_minor, shop, words),
        total=_say(total.total_minor, ticket, shop),
        paid=tuple(
            Charge(words.say(phrases.PAID[one.kind]), _say(-money.signed(one), ticket, shop))
            for one in paid
        ),
        due=_say(total.due_minor, ticket, shop) if total.due_minor > 0 else "",
        credit=_say(-total.due_minor, ticket, shop) if total.due_minor < 0 else "",
        collected_by=handover.collected_by if handover else ticket.collected_by,
        received=_received(payment, ticket, shop, words) if payment else "",
        tax=tax_included(ticket, total.tax_minor, shop, words),
        results=() if payment else tuple(what_boots_did(store, held, shop.unit, words)),
        guarantee_until=date.fromisoformat(ticket.guarantee_end)
        if ticket.guarantee_end and not payment
        else None,
        link=link_of(store, ticket, *address),
        shows=_shows(store, ticket, everything),
        language=words.locale,
        paper=paper_sizes.of_slips(shop),
    )
    return claim_check.receipt(record, words.say, made_by)


def _shows(store: Store, ticket: Ticket, everything: list[Item]) -> Shows:
    """Where things are until all are home; then the calendar, where there is one."""
    if any(one.state not in item_states.GONE for one in everything):
        return "boots" if any(one.kind == "boot" for one in everything) else "items"
    return "calendar" if wears.of_ticket(store, ticket.id) else "ticket"


def _payment(store: Store, ticket_id: int, payment_id: int | None) -> Payment | None:
    """Raises NotFound."""
    if payment_id is None:
        return None
    found = [one for one in bills.payments(store, ticket_id) if one.id == payment_id]
    if not found:
        raise NotFound(say("No such payment on this ticket."))
    return found[0]


def _handover(store: Store, ticket: Ticket, of: ReceiptOf) -> HandoverRow | None:
    """Raises NotFound."""
    if of.handover_id is None:
        return None
    found = [one for one in tills.handovers(store, ticket.id) if one.id == of.handover_id]
    if not found:
        raise NotFound(say("Nothing is picked up yet. The receipt comes with pickup."))
    return found[0]


def _of_handover(held: list[Item], handover: HandoverRow | None) -> list[Item]:
    """The items that went together; all of them where no handing over is named."""
    if handover is None:
        return held
    went = set(json.loads(handover.items))
    return [one for one in held if one.id in went]


def _handed_on(
    ticket: Ticket, payment: Payment | None, handover: HandoverRow | None, shop: Shop
) -> date:
    at = payment.at if payment else handover.at if handover else ticket.handed_over_at
    return _day(at or ticket.opened_at, shop)


def _received(payment: Payment, ticket: Ticket, shop: Shop, words: Speech) -> str:
    """ "Received on Tue, Mar 17: $25.00 (card). Tip, apart: $2.00." """
    by = f" ({words.say(METHODS[payment.method])})" if payment.method in METHODS else ""
    amount = _say(abs(payment.amount_minor), ticket, shop) + by
    day = words.day(_day(payment.at, shop))
    back = money.signed(payment) < 0
    sentence = (
        words.say("Given back on {day}: {amount}.", day=day, amount=amount)
        if back
        else words.say("Received on {day}: {amount}.", day=day, amount=amount)
    )
    if not payment.tip_minor:
        return sentence
    tip = words.say("Tip, apart: {amount}", amount=_say(payment.tip_minor, ticket, shop))
    return f"{sentence} {tip}."


def leg_card(store: Store, shop: Shop, ticket_id: int, made_by: Press) -> bytes:
    """For the customer only: both legs at the heights measured, and the girth of shaft to look for.

    Raises NotFound when no leg was read.
    """
    ticket = tickets.get(store, ticket_id)
    fit, read = next(
        (
            (one, legs)
            for one in fits.of_ticket(store, ticket_id)
            if (legs := readings.legs(store, one.id))
        ),
        (None, []),
    )
    if fit is None:
        raise NotFound(say("No leg is measured on this ticket, so there is no leg card."))
    customer = customers.get(store, ticket.customer_id)
    words = speech_at(shop, customer.language)
    unit = "cm" if fit.unit in ("cm", "mm") else "in"
    card = LegCard(
        shop=phrases.head(shop, words),
        first_name=customer_page.first_name(customer),
        measured_on=_day(read[0].read_at, shop),
        unit=unit,  # type: ignore[arg-type]
        rows=tuple(_rows(read, unit, words)),
        look_for=tuple(_look_for(fit, read, unit, words)),
        over=words.say(phrases.OVER[fit.over]) if fit.over in phrases.OVER else "",
        posture=words.say(phrases.POSTURE[fit.posture]) if fit.posture in phrases.POSTURE else "",
        language=words.locale,
        paper=paper_sizes.of_pages(shop),
    )
    return letters.leg_card(card, words.say, made_by)


def notice(store: Store, shop: Shop, ticket_id: int, now: datetime, made_by: Press) -> bytes:
    """About things that are ready and not picked up. Raises NotFound when not all is ready."""
    ticket = tickets.get(store, ticket_id)
    row = ticket_rows.row_of(store, ticket, shop, shop.today(now))
    here = [
        one for one in row.items if one.state not in item_states.GONE
    ]  # what was picked up already is not asked for again
    since = ticket_rows.ready_since(here, shop) if row.ready else None
    if since is None:
        raise NotFound(say("Not everything on this ticket is ready, so there is no letter yet."))
    customer = row.customer
    words = speech_at(shop, customer.language)
    told = tuple(
        words.say(phrases.TOLD[one.how], day=words.day(_day(one.at, shop)))
        for one in contacts.calls_of_ticket(store, ticket_id)
    )
    letter = NoticeLetter(
        shop=phrases.head(shop, words),
        number=str(ticket.number),
        customer=customer.name,
        customer_address="",
        written_on=shop.today(now),
        items=phrases.item_lines(here, words, works.lines_of_ticket(store, ticket_id)),
        ready_since=since,
        due=_say(row.due_minor, ticket, shop) if row.due_minor > 0 else "",
        told=told,
        language=words.locale,
        paper=paper_sizes.of_pages(shop),
    )
    return letters.notice_letter(letter, words.say, made_by)


def _rows(read: Sequence[LegReading], unit: str, words: Speech) -> list[LegRow]:
    heights = sorted({one.height_um for one in read})
    said = [
        (um, [_plain(_mean(read, um, side), unit, words) for side in ("left", "right")])
        for um in reversed(heights)
    ]
    return [LegRow(_plain(um / 1000, unit, words), left, right) for um, (left, right) in said]


def _mean(read: Sequence[LegReading], height_um: int, side: str) -> float:
    girths = [one.girth_um for one in read if one.height_um == height_um and one.side == side]
    return sum(girths) / len(girths) / 1000 if girths else 0.0


def _look_for(fit: Fit, read: Sequence[LegReading], unit: str, words: Speech) -> list[str]:
    """'a shaft of at least 15 3/4 at 12': the larger leg with the ease that was wanted, at the
    fullest height.
    """
    ease = fit.ease_um / 1000 if fit.ease_um is not None else None
    fullest = max(
        {one.height_um for one in read},
        key=lambda um: max(_mean(read, um, side) for side in ("left", "right")),
    )
    leg = max(_mean(read, fullest, side) for side in ("left", "right"))
    wanted = leg + ease if ease is not None else leg * (1 + EASE[fit.ease])
    return [
        words.say(
            "a shaft of at least {girth} at height {height}",
            girth=_plain(wanted, unit, words),
            height=_plain(fullest / 1000, unit, words),
        )
    ]


def _plain(length_mm: float, unit: str, words: Speech) -> str:
    if not length_mm:
        return ""
    return (
        write_plain(sixteenths_nearest(length_mm))
        if unit == "in"
        else words.decimals(say_length(length_mm, unit).removesuffix(f" {unit}"))
    )


def _day(at: str, shop: Shop) -> date:
    return shop.local(utc_time(at)).date()


def _say(minor: int, ticket: Ticket, shop: Shop) -> str:
    return money.say(minor, ticket.currency, speech_at(shop))
