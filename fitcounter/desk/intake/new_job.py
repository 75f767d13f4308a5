"""Opening a ticket: who, by when, which things, and what we saw on them.

Everything that is refused is refused before a row is written.
"""

from __future__ import annotations

from datetime import timedelta

from fitcounter.desk.common import shop_days
from fitcounter.desk.common.contact import Phone
from fitcounter.desk.common.translation import say, speech_at
from fitcounter.desk.intake import not_done_here
from fitcounter.desk.intake.item_rows import LETTERS, add_items
from fitcounter.desk.intake.job_records import NewJob, Who
from fitcounter.desk.plan import kept_for_boots_at_home
from fitcounter.desk.quote.price_list import PriceEntry
from fitcounter.desk.shop import Shop
from fitcounter.errors import BadInput, Conflict
from fitcounter.store import customers, drafts, erasing, items, promised_slots, tickets
from fitcounter.store.database import Act, Store, Written
from fitcounter.store.records import Customer

__all__ = [
    "Customer",
    "add_to_ticket",
    "known",
    "open_ticket",
    "write_ticket",
]
MOST_THINGS = 12


def known(store: Store, phone: Phone) -> list[Customer]:
    """Customers the shop has with this number."""
    return customers.by_phone(store, phone.e164, phone.last4) if phone.last4 else []


def open_ticket(store: Store, act: Act, shop: Shop, job: NewJob, draft_id: str = "") -> Written:
    """One ticket with all its items.

    row_id: the fit to be measured, None where no boot is to be stretched. Raises BadInput.
    """
    _something(job)
    job, asked = not_done_here.apart(store, job)

    def write() -> Written:
        ticket_id, fit_id = write_ticket(store, act, shop, job)
        return _written(store, act, ticket_id, fit_id, asked, draft_id)

    return store.once(act, "ticket-opened", write)


def add_to_ticket(
    store: Store, act: Act, shop: Shop, ticket_id: int, job: NewJob, draft_id: str = ""
) -> Written:
    """More things on a ticket that is open; its customer, day and note stay.

    Raises BadInput, NotFound, Conflict.
    """
    _something(job)
    job, asked = not_done_here.apart(store, job)

    def write() -> Written:
        ticket = tickets.get(store, ticket_id)
        if ticket.state != "open":
            raise Conflict(say("This ticket is handed over. Open a new one."))
        if len({one.letter for one in items.of_ticket(store, ticket_id)}) + len(
            job.things
        ) + 1 > len(LETTERS):
            raise BadInput(
                say("This ticket is full. Open a second one for the rest."), field="things"
            )
        fit_id = add_items(store, act, shop, ticket_id, job)
        return _written(store, act, ticket_id, fit_id, asked, draft_id)

    return store.once(act, "items-added", write)


def _written(
    store: Store,
    act: Act,
    ticket_id: int,
    fit_id: int | None,
    asked: list[PriceEntry],
    draft_id: str,
) -> Written:
    """What was asked for and is not done here is kept, and the draft is over. words: the answer."""
    words = not_done_here.keep(store, act, ticket_id, asked)
    if draft_id:
        drafts.drop(store, draft_id)
    detail = {"items": len(items.of_ticket(store, ticket_id))}
    return Written(ticket_id, row_id=fit_id, words=words, detail=detail)


def write_ticket(store: Store, act: Act, shop: Shop, job: NewJob) -> tuple[int, int | None]:
    """The rows of a new ticket, inside a write: its id and the fit of its boots."""
    customer_id = _customer(store, act, shop, job.who)
    columns = {
        "needed_by": job.needed_by.isoformat() if job.needed_by else None,
        "worn_with": job.worn_with,
        "note": job.note,
        "rush": int(job.rush),
    }
    money = {
        "currency": shop.currency,
        "tax_basis_points": shop.tax_basis_points,
        "tax_included": int(shop.tax_included),
    }
    kind = {"price_kind": shop.price_kind, "rounds_included": shop.rounds_included}
    ticket_id = tickets.add(store, act, customer_id, **columns, **money, **kind)
    fit_id = add_items(store, act, shop, ticket_id, job)
    if job.slot_id is not None and promised_slots.get(store, job.slot_id) is not None:
        until = shop_days.of_shop(store, shop).next_open(shop.today(act.at) + timedelta(days=1))
        columns = {"ticket_id": ticket_id, "kept_until": until.isoformat()}
        store.change("promised_slots", job.slot_id, None, **columns)
        kept_for_boots_at_home.take_over(store, ticket_id)
    return ticket_id, fit_id


def _something(job: NewJob) -> None:
    if job.boots is None and not job.things:
        raise BadInput(
            say("Choose the boots to stretch, or add an item and its work."), field="boots"
        )
    if len(job.things) > MOST_THINGS:
        raise BadInput(
            say(
                "A ticket holds {most} other items. Open a second one for the rest.",
                most=MOST_THINGS,
            ),
            field="things",
        )


def _customer(store: Store, act: Act, shop: Shop, who: Who) -> int:
    """A new one reads what the shop speaks, until they say otherwise."""
    if who.customer_id is not None:
        known_one = customers.get(store, who.customer_id)
        if who.email and who.email != known_one.email:  # what the customer says now holds
            erasing.mark_drafts(store, known_one.id)
            store.change("customers", known_one.id, known_one.version, email=who.email)
        return known_one.id
    phone = (who.phone.typed, who.phone.e164, who.phone.last4)
    return customers.add(store, act, who.name, phone, who.email, speech_at(shop).code)
