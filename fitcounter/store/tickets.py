"""Tickets: one customer's things under one spoken number, and what the ticket says of price,
consent and link.
"""

from __future__ import annotations

import json
from collections.abc import Collection, Mapping, Sequence
from typing import Any

from fitcounter.errors import NotFound, message
from fitcounter.store.database import Act, Store, utc_text
from fitcounter.store.records import Consent, Ticket

SPOKEN = 999  # a number that is said across a counter; four digits only when all these are open
MOST = 9999


def get(store: Store, ticket_id: int) -> Ticket:
    """Raises NotFound."""
    found = (
        store.first(Ticket, "SELECT * FROM tickets WHERE id = ?", ticket_id)
        if 0 < ticket_id < 2**63
        else None
    )
    if found is None:
        raise NotFound(message("No such ticket. Type its number or the name."))
    return found


def some(store: Store, ticket_ids: Collection[int]) -> dict[int, Ticket]:
    """Those of these that there are, by id."""
    sql = "SELECT * FROM tickets WHERE id IN (SELECT value FROM json_each(?))"
    return {one.id: one for one in store.all(Ticket, sql, json.dumps(list(ticket_ids)))}


def of_customer(store: Store, customer_id: int) -> list[Ticket]:
    """Newest first."""
    return store.all(
        Ticket, "SELECT * FROM tickets WHERE customer_id = ? ORDER BY id DESC", customer_id
    )


def open_by_number(store: Store, number: int) -> Ticket | None:
    return store.first(Ticket, "SELECT * FROM tickets WHERE number = ? AND state = 'open'", number)


def open_again(store: Store, ticket_id: int) -> Ticket | None:
    """The open ticket on which the boots of this one were taken in again."""
    return store.first(
        Ticket, "SELECT * FROM tickets WHERE returns_ticket_id = ? AND state = 'open'", ticket_id
    )


def by_link(store: Store, link_hash: str) -> Ticket | None:
    """The ticket behind a customer's link, whatever its state; the caller looks at link_until and
    link_revoked_at.
    """
    return store.first(Ticket, "SELECT * FROM tickets WHERE link_hash = ?", link_hash)


def by_code(store: Store, code_hash: str) -> Ticket | None:
    """The ticket to which a short code leads, whatever its state; as by_link."""
    return store.first(Ticket, "SELECT * FROM tickets WHERE link_code_hash = ?", code_hash)


def by_share(store: Store, share_hash: str) -> Ticket | None:
    """The ticket that a link to look at shows, whatever its state; as by_link."""
    return store.first(Ticket, "SELECT * FROM tickets WHERE share_hash = ?", share_hash)


def shares(store: Store, ticket_id: int) -> tuple[int, bool]:
    """How many links to look at there were, and whether the last one is open."""
    row = store.rows("SELECT share_series, share_hash FROM tickets WHERE id = ?", ticket_id)[0]
    return int(row["share_series"]), row["share_hash"] is not None


def opens_by_code(store: Store, ticket_id: int) -> bool:
    """Whether the ticket has a short code, and its customer a phone number to open it with."""
    sql = (
        "SELECT 1 FROM tickets t JOIN customers c ON c.id = t.customer_id"
        " WHERE t.id = ? AND t.link_code_hash IS NOT NULL AND c.phone_last4 <> ''"
    )
    return store.value(sql, ticket_id) is not None


def link_series(store: Store, ticket_id: int) -> int | None:
    """Which of the ticket's links opens now, from 1; None before it has one and after it was taken
    back.
    """
    sql = (
        "SELECT link_series FROM tickets WHERE id = ? AND link_hash IS NOT NULL AND link_revoked_at"
        " IS NULL"
    )
    found = store.value(sql, ticket_id)
    return None if found is None else int(found)


def new_link(
    store: Store, ticket: Ticket, hashes: Mapping[str, str], series: int, until: str
) -> None:
    """The link of these hashes (link_hash, link_code_hash) instead of the one before, inside a
    write.
    """
    link = {
        **hashes,
        "link_series": series,
        "link_until": until,
        "link_revoked_at": None,
    }
    store.change("tickets", ticket.id, ticket.version, **link)


def links_so_far(store: Store, ticket_id: int) -> int:
    """How many links this ticket has had; 0 before the first."""
    return int(
        store.value(
            "SELECT CASE WHEN link_hash IS NULL THEN 0 ELSE link_series END FROM tickets WHERE"
            " id = ?",
            ticket_id,
        )
        or 0
    )


def relinked(store: Store) -> list[tuple[Ticket, int]]:
    """Those that have had more than one link, with which it is by now."""
    rows = store.rows("SELECT id, link_series FROM tickets WHERE link_series > 1 ORDER BY id DESC")
    return [(get(store, int(row["id"])), int(row["link_series"])) for row in rows]


def open_tickets(store: Store) -> list[Ticket]:
    """All that are open, by promised day; those without one last, by number."""
    return store.all(
        Ticket,
        "SELECT * FROM tickets WHERE state = 'open' ORDER BY promise_day IS NULL, promise_day,"
        " number",
    )


def latest_handed_over(store: Store, most: int = 50) -> list[str]:
    """When the latest pickups were, latest first (UTC text)."""
    rows = store.rows(
        "SELECT handed_over_at FROM tickets WHERE handed_over_at IS NOT NULL ORDER BY"
        " handed_over_at DESC LIMIT ?",
        most,
    )
    return [str(row["handed_over_at"]) for row in rows]


def free_number(store: Store) -> int:
    """The next spoken number: after the last one given, round from 999 to 1, never one that is open
    or hangs on a free tag.
    """
    taken = {
        int(row["number"]) for row in store.rows("SELECT number FROM tickets WHERE state = 'open'")
    }
    sql = (
        "SELECT number FROM tags WHERE number IS NOT NULL AND item_id IS NULL AND tree_id IS NULL"
        " AND died_at IS NULL"
    )
    taken |= {int(row["number"]) for row in store.rows(sql)}
    last = int(
        store.value("SELECT number FROM tickets WHERE number <= ? ORDER BY id DESC LIMIT 1", SPOKEN)
        or 0
    )
    order: list[int] = [
        *range(last + 1, SPOKEN + 1),
        *range(1, last + 1),
        *range(SPOKEN + 1, MOST + 1),
    ]
    return next(number for number in order if number not in taken)


def add(store: Store, act: Act, customer_id: int, **columns: object) -> int:
    """A new open ticket with a free number, inside a write.

    columns: of tickets, currency among them.
    """
    number = free_number(store)
    return store.insert(
        "tickets", number=number, customer_id=customer_id, opened_at=utc_text(act.at), **columns
    )


def acts_on(store: Store, ticket_id: int, most: int = 200) -> list[dict[str, Any]]:
    """The log of who did what with a ticket, newest first: at, what, staff_id, detail."""
    return store.rows(
        "SELECT at, what, staff_id, detail FROM audit WHERE ticket_id = ? ORDER BY id DESC LIMIT ?",
        ticket_id,
        most,
    )


def add_consent(
    store: Store,
    act: Act,
    ticket_id: int,
    text_version: str,
    sentences: Sequence[str],
    **columns: object,
) -> int:
    """What she agreed to, word for word, inside a write.

    columns: name, initials, signature_file.
    """
    row = {
        "ticket_id": ticket_id,
        "text_version": text_version,
        "sentences": json.dumps(list(sentences), ensure_ascii=False),
    }
    return store.insert(
        "consents", **row, agreed_at=utc_text(act.at), staff_id=act.staff_id, **columns
    )


def consents(store: Store, ticket_id: int) -> list[Consent]:
    """Oldest first."""
    return store.all(Consent, "SELECT * FROM consents WHERE ticket_id = ? ORDER BY id", ticket_id)
