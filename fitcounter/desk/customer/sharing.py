"""A link that only shows the customer's page: theirs to give to who helps them, and to end."""

from __future__ import annotations

from datetime import datetime
from pathlib import Path

from fitcounter.desk.common.link_token import link_hash, link_key, share_token
from fitcounter.desk.common.translation import say
from fitcounter.desk.customer import page as customer_page
from fitcounter.errors import Expired, NotFound, OutOfOrder
from fitcounter.store import tickets
from fitcounter.store.database import Act, Store, Written, utc_text
from fitcounter.store.records import Ticket


def share(store: Store, act: Act, ticket_id: int, data_dir: Path) -> Written:
    """A link to look at; the one before ends. Raises NotAllowed."""

    def write() -> Written:
        ticket = tickets.get(store, ticket_id)
        series = tickets.shares(store, ticket_id)[0] + 1
        token = share_token(link_key(data_dir), ticket, series)
        store.change(
            "tickets", ticket.id, ticket.version, share_hash=link_hash(token), share_series=series
        )
        return Written(ticket_id, words=say("The link is ready."), detail={"share": series})

    return store.once(act, "shared", write)


def end(store: Store, act: Act, ticket_id: int) -> Written:
    """The link to look at shows nothing from now on. Raises OutOfOrder where there is none."""

    def write() -> Written:
        ticket = tickets.get(store, ticket_id)
        series, is_open = tickets.shares(store, ticket_id)
        if not is_open:
            raise OutOfOrder(say("Nobody else can look at your page."))
        store.change("tickets", ticket.id, ticket.version, share_hash=None)
        words = say("Nobody else can look at your page any more.")
        return Written(ticket_id, words=words, detail={"share": series})

    return store.once(act, "share-ended", write)


def token_of(store: Store, ticket_id: int, data_dir: Path) -> str:
    """The token of the link to look at, "" where none is open. Raises NotAllowed."""
    series, is_open = tickets.shares(store, ticket_id)
    return share_token(link_key(data_dir), tickets.get(store, ticket_id), series) if is_open else ""


def ticket_of_share(store: Store, token: str, now: datetime) -> Ticket:
    """The ticket that a link shows. It ends when the customer's own does.

    Raises NotFound with the words of a link that opens nothing; Expired.
    """
    ticket = tickets.by_share(store, link_hash(token)) if 20 <= len(token) <= 30 else None
    if ticket is None or ticket.link_revoked_at is not None:
        raise NotFound(customer_page.no_such_link())
    if ticket.link_until is not None and ticket.link_until < utc_text(now):
        raise Expired(say("This link has ended. Ask the shop for a new one."))
    return ticket
