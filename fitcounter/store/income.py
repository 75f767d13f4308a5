"""What came in and went out between two instants, and which payments and tickets it was."""

from __future__ import annotations

import json
from collections.abc import Sequence
from typing import NamedTuple

from fitcounter.store.database import Store

_SIGNED = "CASE p.kind WHEN 'refund' THEN -p.amount_minor ELSE p.amount_minor END"


class PaidRow(NamedTuple):
    """A payment with its ticket and whose it is."""

    id: int
    ticket_id: int
    number: int
    name: str
    at: str
    kind: str
    amount_minor: int
    tip_minor: int
    method: str
    currency: str
    note: str
    staff_id: int | None


class PeriodSums(NamedTuple):
    """in_minor, out_minor: payments, and what was given back or put right downwards (below 0)."""

    in_minor: int
    out_minor: int
    tips_minor: int
    number: int


class CheaperRow(NamedTuple):
    """A price that was changed without asking anybody, because it went down."""

    ticket_id: int
    number: int
    name: str
    at: str
    why: str
    staff_id: int | None


_ROWS = (
    "SELECT p.id, p.ticket_id, t.number, c.name, p.at, p.kind, p.amount_minor, p.tip_minor,"
    " p.method, t.currency, p.note, p.staff_id FROM payments p JOIN tickets t ON t.id ="
    " p.ticket_id JOIN customers c ON c.id = t.customer_id WHERE p.at >= ? AND p.at < ?"
)


def sums(store: Store, currency: str, spans: Sequence[tuple[str, str]]) -> list[PeriodSums]:
    """Of one currency, for each span from one instant to before another (UTC text), in their
    order.
    """
    sql = (
        f"SELECT s.key AS place, sum(max({_SIGNED}, 0)) AS in_minor, sum(min({_SIGNED}, 0)) AS"
        " out_minor, sum(p.tip_minor) AS tips_minor, count(*) AS number FROM json_each(?) s CROSS"
        " JOIN payments p ON p.at >= s.value ->> 0 AND p.at < s.value ->> 1 CROSS JOIN tickets t"
        " ON t.id = p.ticket_id AND t.currency = ? GROUP BY s.key"
    )
    found = {row.pop("place"): row for row in store.rows(sql, json.dumps(spans), currency)}
    nothing = {"in_minor": 0, "out_minor": 0, "tips_minor": 0, "number": 0}
    return [PeriodSums(**found.get(place, nothing)) for place in range(len(spans))]


def payments(store: Store, first: str, last: str, most: int = -1) -> list[PaidRow]:
    """Oldest first. most: -1 for all."""
    return store.all(PaidRow, f"{_ROWS} ORDER BY p.at, p.id LIMIT ?", first, last, most)


def given_back(store: Store, first: str, last: str) -> list[PaidRow]:
    """Refunds and corrections, newest first."""
    sql = f"{_ROWS} AND (p.kind = 'refund' OR p.kind = 'correction') ORDER BY p.at DESC, p.id DESC"
    return store.all(PaidRow, sql, first, last)


def made_cheaper(store: Store, first: str, last: str) -> list[CheaperRow]:
    """Prices that went down, newest first."""
    sql = (
        "SELECT s.ticket_id, t.number, c.name, s.agreed_at AS at, s.why, s.staff_id FROM consents s"
        " JOIN tickets t ON t.id = s.ticket_id JOIN customers c ON c.id = t.customer_id WHERE"
        " s.how = 'lower' AND s.how <> '' AND s.agreed_at >= ? AND s.agreed_at < ? ORDER BY"
        " s.agreed_at DESC"
    )
    return store.all(CheaperRow, sql, first, last)


def billed(store: Store, first: str, last: str) -> list[tuple[int, str]]:
    """Tickets with price lines that were billed then, with the instant, oldest first."""
    sql = (
        "SELECT DISTINCT ticket_id, billed_at FROM price_lines WHERE billed_at >= ? AND billed_at"
        " < ? ORDER BY billed_at, ticket_id"
    )
    return [(int(row["ticket_id"]), row["billed_at"]) for row in store.rows(sql, first, last)]
