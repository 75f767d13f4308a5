"""Closed tills, what was handed over to whom, and tickets that owe or are owed money."""

from __future__ import annotations

import json
from collections.abc import Mapping, Sequence
from typing import NamedTuple

from fitcounter.store.database import Act, Store, utc_text
from fitcounter.store.records import Ticket


class TillRow(NamedTuple):
    """A till as it was closed. expected, counted: JSON, minor units by method.

    first_payment_id, last_payment_id: of the payments in it. float_minor: the change that was in it
    before them.
    """

    id: int
    at: str
    staff_id: int | None
    currency: str
    first_payment_id: int
    last_payment_id: int
    float_minor: int
    expected: str
    counted: str
    note: str


class MethodSums(NamedTuple):
    """Payments of one method since the last closing: in and out, tips among them; how many."""

    method: str
    in_minor: int
    out_minor: int
    tips_minor: int
    number: int


class HandoverRow(NamedTuple):
    """Some of a ticket's items as they were handed over. items: their ids, as JSON."""

    id: int
    ticket_id: int
    at: str
    collected_by: str
    items: str
    staff_id: int | None


def last(store: Store) -> TillRow | None:
    return store.first(TillRow, "SELECT * FROM tills ORDER BY id DESC LIMIT 1")


def get(store: Store, till_id: int) -> TillRow | None:
    return store.first(TillRow, "SELECT * FROM tills WHERE id = ?", till_id)


def latest(store: Store, most: int = 5) -> list[TillRow]:
    return store.all(TillRow, "SELECT * FROM tills ORDER BY id DESC LIMIT ?", most)


def last_payment_before(store: Store, at: str) -> int:
    """The id of the last payment before an instant, 0 for none."""
    return int(store.value("SELECT max(id) FROM payments WHERE at < ?", at) or 0)


def last_payment(store: Store) -> int:
    return int(store.value("SELECT max(id) FROM payments") or 0)


def moved(store: Store, currency: str, after_id: int, last_id: int) -> list[MethodSums]:
    """What payments came to, by method; corrections go in or out by their sign."""
    signed = "CASE kind WHEN 'refund' THEN -amount_minor ELSE amount_minor END"
    sql = (
        f"SELECT method, sum(max({signed}, 0) + tip_minor) AS in_minor, sum(min({signed}, 0)) AS"
        " out_minor, sum(tip_minor) AS tips_minor, count(*) AS number FROM payments p JOIN tickets"
        " t ON t.id = p.ticket_id WHERE p.id > ? AND p.id <= ? AND t.currency = ? GROUP BY method"
    )
    return store.all(MethodSums, sql, after_id, last_id, currency)


def close(
    store: Store,
    act: Act,
    sums: Mapping[str, Mapping[str, int]],
    payments: tuple[int, int],
    **columns: object,
) -> int:
    """Keeps a closed till, inside a write. sums: expected and counted, by method. payments: the
    first and the last id in it. columns: currency, float_minor, note.
    """
    texts = {name: json.dumps(sums[name], sort_keys=True) for name in ("expected", "counted")}
    first, newest = payments
    return store.insert(
        "tills",
        at=utc_text(act.at),
        staff_id=act.staff_id,
        first_payment_id=first,
        last_payment_id=newest,
        **texts,
        **columns,
    )


def hand_over(
    store: Store, act: Act, ticket_id: int, at: str, collected_by: str, item_ids: Sequence[int]
) -> int:
    """Keeps what was handed over at once and to whom, inside a write."""
    return store.insert(
        "handovers",
        ticket_id=ticket_id,
        at=at,
        collected_by=collected_by,
        items=json.dumps(sorted(item_ids)),
        staff_id=act.staff_id,
    )


def handovers(store: Store, ticket_id: int) -> list[HandoverRow]:
    """Oldest first."""
    return store.all(
        HandoverRow, "SELECT * FROM handovers WHERE ticket_id = ? ORDER BY id", ticket_id
    )


def open_money(store: Store, *, picked_up: bool, most: int = 200) -> list[Ticket]:
    """Tickets with a balance either way, the largest first; picked_up: only those with nothing
    left in the shop.
    """
    only = "AND state <> 'open' " if picked_up else ""
    sql = (
        # not by IN: in an old shop SQLite would begin with every customer that there is
        f"SELECT * FROM tickets WHERE due_minor <> 0 {only}AND EXISTS (SELECT 1 FROM customers c"
        " WHERE c.id = tickets.customer_id AND c.erased_at IS NULL) ORDER BY due_minor DESC LIMIT ?"
    )
    return store.all(Ticket, sql, most)


def owed_minor(store: Store) -> dict[str, int]:
    """What is owed to the shop in all, by currency."""
    rows = store.rows(
        "SELECT currency, sum(due_minor) AS sum FROM tickets WHERE due_minor <> 0 AND due_minor > 0"
        " GROUP BY currency"
    )
    return {str(row["currency"]): int(row["sum"]) for row in rows}
