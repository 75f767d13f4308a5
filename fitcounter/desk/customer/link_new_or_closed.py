"""The customer's link at the counter: shown to be scanned, renewed where somebody else may have it,
switched off; and the language of the customer's papers.
"""

from __future__ import annotations

from datetime import date, datetime, timedelta
from pathlib import Path
from typing import NamedTuple
from zoneinfo import ZoneInfo

from fitcounter.desk.common.catalogues import languages
from fitcounter.desk.common.link_token import (
    LINK_DAYS,
    link_hashes,
    link_key,
    link_of,
    typed_address,
)
from fitcounter.desk.common.translation import say, speech
from fitcounter.desk.shop import Shop
from fitcounter.errors import BadInput, OutOfOrder
from fitcounter.papers import qr_code
from fitcounter.store import customers, tickets
from fitcounter.store.database import Act, Store, Written, utc_text, utc_time
from fitcounter.store.records import Customer, Ticket


class LinkPage(NamedTuple):
    """The customer's link as the counter sees it.

    state: none (before it is agreed), open, over (its time has passed) or taken back. address: of
    the customer's page, and typed: the short one for
    paper and phone, and qr_code: the same as an SVG element; all "" unless it is open. until:
    last day, None where there is no link. before: how many older links there were; none of them
    opens anything.
    """

    ticket: Ticket
    customer: Customer
    state: str
    address: str
    typed: str
    qr_code: str
    until: date | None
    before: int


def link_page(
    store: Store, shop: Shop, ticket_id: int, base_url: str, data_dir: Path, now: datetime
) -> LinkPage:
    """The link of a ticket at `now` (aware). Raises NotFound."""
    ticket = tickets.get(store, ticket_id)
    customer = customers.get(store, ticket.customer_id)
    so_far = tickets.links_so_far(store, ticket_id)
    until = shop.local(utc_time(ticket.link_until)).date() if so_far and ticket.link_until else None
    state = "open"
    if not so_far:
        state = "none"
    elif ticket.link_revoked_at is not None:
        state = "taken back"
    elif ticket.link_until is not None and ticket.link_until < utc_text(now):
        state = "over"
    address = link_of(store, ticket, base_url, data_dir) or "" if state == "open" else ""
    typed = typed_address(store, ticket, base_url, data_dir) if address else ""
    title = say("Code to scan for the customer’s page")
    code = qr_code.square(address, title=title) if address else ""
    return LinkPage(ticket, customer, state, address, typed, code, until, max(0, so_far - 1))


def renew(store: Store, act: Act, shop: Shop, ticket_id: int, data_dir: Path) -> Written:
    """A new link; the one before opens nothing from this moment on.

    Raises OutOfOrder before there is a first one.
    """

    def write() -> Written:
        ticket = tickets.get(store, ticket_id)
        series = _so_far(store, ticket_id) + 1
        fresh = link_hashes(link_key(data_dir), ticket, series)
        tickets.new_link(store, ticket, fresh, series, utc_text(_until(ticket, shop, act.at)))
        return Written(
            ticket_id,
            words=say("The new link works now. The old one no longer does."),
            detail={"link": series},
        )

    return store.once(act, "link-new", write)


def take_back(store: Store, act: Act, ticket_id: int) -> Written:
    """The link opens nothing until a new one is made. Raises OutOfOrder before there is one."""

    def write() -> Written:
        ticket = tickets.get(store, ticket_id)
        series = _so_far(store, ticket_id)
        store.change("tickets", ticket.id, ticket.version, link_revoked_at=utc_text(act.at))
        words = say("The link is switched off. Make a new link to let the customer in again.")
        return Written(ticket_id, words=words, detail={"link": series})

    return store.once(act, "link-taken-back", write)


def choose_language(store: Store, act: Act, ticket_id: int, code: str) -> Written:
    """The language of the customer's page and papers from now on.

    code: one there is a catalogue of, or "en". Raises BadInput.
    """
    if code not in languages():
        words = say("Pick one of the languages on the page.")
        raise BadInput(words, typed=code, field="language")

    def write() -> Written:
        ticket = tickets.get(store, ticket_id)
        customer = customers.get(store, ticket.customer_id)
        store.change("customers", customer.id, customer.version, language=speech(code).code)
        return Written(
            ticket_id,
            words=say(
                "{name}’s page and papers are in {language} from now on.",
                name=customer.name,
                language=languages()[code],
            ),
            detail={"language": code},
        )

    return store.once(act, "language", write)


def _so_far(store: Store, ticket_id: int) -> int:
    """How many links there were. Raises OutOfOrder where there was none."""
    so_far = tickets.links_so_far(store, ticket_id)
    if not so_far:
        raise OutOfOrder(say("This ticket has no link yet. It gets one when the job is agreed."))
    return so_far


def _until(ticket: Ticket, shop: Shop, at: datetime) -> datetime:
    """The same end as the link before, unless that has passed; then as long again."""
    fresh = at + timedelta(days=LINK_DAYS)
    if ticket.guarantee_end is None:
        return fresh
    last = date.fromisoformat(ticket.guarantee_end) + timedelta(days=shop.link_days_after)
    held = datetime.combine(last, datetime.max.time(), ZoneInfo(shop.zone))
    return held if held > at else at + timedelta(days=shop.link_days_after)
