"""The rows behind each of the owner's figures. A figure is the sum of its rows, or their number, so
that it and the list it leads to can never say different things.

A source is a SELECT of ticket_id, at (UTC text), grp (what the rows are summed by), words and
amount (minor units, or seconds). ?1 and ?2: from an instant to before another; ?3: the currency.
"""

from __future__ import annotations

from typing import NamedTuple

from fitcounter.store.database import Store

_SIGNED = "CASE p.kind WHEN 'refund' THEN -p.amount_minor ELSE p.amount_minor END"
# The longest that a boot is on one tree: holds are at most 1,000 hours, and some are left on.
_LONGEST_ON = "-100 days"


def _tax(taxed: str) -> str:
    """What desk.common.money works out, half up away from nought. taxed: the sum of taxed lines."""
    on_top = (
        f"({taxed} * t.tax_basis_points + CASE WHEN {taxed} < 0 THEN -5000 ELSE 5000 END) / 10000"
    )
    whole = "(10000 + t.tax_basis_points)"
    within = (
        f"(2 * {taxed} * t.tax_basis_points + CASE WHEN {taxed} < 0 THEN -{whole} ELSE {whole} END)"
        f" / (2 * {whole})"
    )
    return f"CASE t.tax_included WHEN 1 THEN {within} ELSE {on_top} END"


def _taxed(of: str) -> str:
    """The sum of the taxed lines of a ticket. of: which of them."""
    return (
        "(SELECT coalesce(sum(l.taxable * l.quantity * l.amount_minor), 0) FROM price_lines l"
        f" WHERE l.ticket_id = t.id AND {of})"
    )


_LINES = (
    "SELECT l.ticket_id, l.billed_at AS at, {grp} AS grp, l.what AS words,"
    " l.quantity * l.amount_minor AS amount FROM price_lines l JOIN tickets t ON t.id ="
    " l.ticket_id LEFT JOIN works w ON w.line_id = l.id LEFT JOIN items i ON i.id = l.item_id"
    " WHERE l.billed_at >= ?1 AND l.billed_at < ?2 AND t.currency = ?3"
)
_WORK = (
    "CASE WHEN l.kind = 'reduction' THEN 'less' WHEN w.what IS NOT NULL THEN 'work:' || w.what"
    " WHEN l.kind = 'round' OR l.kind = 'flat' AND l.what LIKE 'Stretch%' THEN 'stretching'"
    " WHEN l.what LIKE 'A panel for %' THEN 'work:Leather panel' WHEN l.what = 'Rush job' THEN"
    " 'rush' WHEN i.work = 'other' AND i.side IS NULL THEN 'kind:' || i.kind ELSE 'other' END"
)
_LEATHER = (
    "CASE WHEN i.side IS NOT NULL THEN i.material WHEN i.id IS NOT NULL THEN 'things' ELSE"
    " coalesce((SELECT CASE WHEN min(b.material) = max(b.material) THEN min(b.material) WHEN"
    " min(b.material) IS NOT NULL THEN 'several' END FROM items b WHERE b.ticket_id = t.id AND"
    " b.side IS NOT NULL), 'things') END"
)
_PAID = (
    "SELECT p.ticket_id, p.at, {grp} AS grp, p.note AS words, {amount} AS amount FROM payments p"
    " JOIN tickets t ON t.id = p.ticket_id WHERE p.at >= ?1 AND p.at < ?2 AND t.currency = ?3"
)
# Before and up to the end of the days: rounding is once a ticket, so that what was taxed in two
# parts comes to the tax of the whole.
_TAX = (
    "SELECT ticket_id, at, grp, '' AS words, upto - before AS amount FROM (SELECT t.id AS"
    " ticket_id, b.at, CASE t.tax_included WHEN 1 THEN 'within' ELSE 'on top' END AS grp,"
    f" {_tax(_taxed('l.billed_at < ?2'))} AS upto,"
    f" {_tax(_taxed('l.billed_at < ?1'))} AS before FROM (SELECT ticket_id, max(billed_at) AS at"
    " FROM price_lines WHERE billed_at >= ?1 AND billed_at < ?2 GROUP BY ticket_id) b JOIN tickets"
    " t ON t.id = b.ticket_id WHERE t.currency = ?3 AND t.tax_basis_points > 0) WHERE upto <>"
    " before"
)
# Paid, less what was billed with its tax: of a job that came back, the first bill is no advance.
# The plus keeps SQLite from walking all tickets in their order.
_BILLED = (
    "(SELECT coalesce(sum(l.quantity * l.amount_minor), 0) FROM price_lines l WHERE l.ticket_id ="
    " t.id AND l.billed_at IS NOT NULL)"
)
_HELD = (
    "SELECT ticket_id, at, '' AS grp, '' AS words, amount FROM (SELECT t.id AS ticket_id, min(p.at)"
    f" AS at, sum({_SIGNED}) - {_BILLED} - CASE t.tax_included WHEN 1 THEN 0 ELSE"
    f" {_tax(_taxed('l.billed_at IS NOT NULL'))} END AS amount FROM tickets t JOIN payments p ON"
    " p.ticket_id = t.id WHERE t.state = 'open' AND t.currency = ?3 GROUP BY +t.id)"
    " WHERE amount > 0"
)
_DUE = (
    "SELECT t.id AS ticket_id, t.opened_at AS at, '' AS grp, '' AS words, abs(t.due_minor) AS"
    " amount FROM tickets t WHERE t.due_minor <> 0 AND t.due_minor {sign} 0 AND t.currency = ?3"
)
_JOBS = "SELECT t.id AS ticket_id, {at} AS at, '' AS grp, '' AS words, 1 AS amount FROM tickets t"
_TAKEN = f"{_JOBS.format(at='t.opened_at')} WHERE t.opened_at >= ?1 AND t.opened_at < ?2"
_OUT = (
    f"{_JOBS.format(at='t.handed_over_at')} WHERE t.handed_over_at >= ?1 AND t.handed_over_at < ?2"
)
_OPEN = (
    f"{_JOBS.format(at='t.opened_at')} WHERE t.state = 'open' AND t.opened_at < ?2 UNION ALL"
    f" {_JOBS.format(at='t.opened_at')} WHERE t.state <> 'open' AND t.handed_over_at >= ?2 AND"
    " t.opened_at < ?2"
)
# Its last item's first time on the shelf; what never was there was given back undone.
_READY_AT = (
    "(SELECT max(first) FROM (SELECT min(s.happened_at) AS first FROM items i JOIN steps s ON"
    " s.item_id = i.id WHERE i.ticket_id = t.id AND s.to_state = 'shelved' AND s.undone_at IS NULL"
    " GROUP BY i.id))"
)
_SECONDS = "strftime('%s', {end}) - strftime('%s', t.opened_at)"
_READY = (
    "SELECT ticket_id, ready AS at, grp, '' AS words, strftime('%s', ready) - strftime('%s',"
    " opened_at) AS amount FROM (SELECT t.id AS ticket_id, t.opened_at, coalesce(t.promise_day, '')"
    f" AS grp, {_READY_AT} AS ready FROM tickets t WHERE t.handed_over_at >= ?1 AND"
    " t.handed_over_at < ?2) WHERE ready IS NOT NULL"
)
# One that came back has its second pickup here, which says nothing of the first.
_HOME = (
    "SELECT t.id AS ticket_id, t.handed_over_at AS at, '' AS grp, '' AS words,"
    f" {_SECONDS.format(end='t.handed_over_at')} AS amount FROM tickets t WHERE t.handed_over_at >="
    " ?1 AND t.handed_over_at < ?2 AND NOT EXISTS (SELECT 1 FROM comebacks c WHERE c.ticket_id ="
    " t.id)"
)
_TREES = (
    "SELECT i.ticket_id, r.on_at AS at, e.label AS grp, '' AS words, strftime('%s',"
    " min(coalesce(r.off_at, ?2), ?2)) - strftime('%s', max(r.on_at, ?1)) AS amount FROM rounds r"
    " JOIN items i ON i.id = r.item_id JOIN trees e ON e.id = r.tree_id WHERE r.on_at IS NOT NULL"
    f" AND r.on_at < ?2 AND r.on_at > strftime('%Y-%m-%dT%H:%M:%SZ', ?1, '{_LONGEST_ON}') AND"
    " coalesce(r.off_at, ?2) > ?1 AND e.state <> 'retired'"
)
_NAMED: dict[str, str] = {
    "payments": _PAID.format(grp="p.method", amount=_SIGNED) + f" AND {_SIGNED} >= 0",
    "refunds": _PAID.format(grp="p.method", amount=_SIGNED) + f" AND {_SIGNED} < 0",
    "tips": _PAID.format(grp="p.method", amount="p.tip_minor") + " AND p.tip_minor <> 0",
    "work": _LINES.format(grp=_WORK),
    "leather": _LINES.format(grp=_LEATHER),
    "tax": _TAX,
    "held": _HELD,
    "owed": _DUE.format(sign=">"),
    "to-give-back": _DUE.format(sign="<"),
    "taken": _TAKEN,
    "picked-up": _OUT,
    "open": _OPEN,
    "ready": _READY,
    "home": _HOME,
    "trees": _TREES,
}
SOURCES = tuple(_NAMED)
# Each source asks some of the three; all are bound.
_ALL_ASKED = "?1 <= ?2 AND ?3 <> ''"


class FigureSpan(NamedTuple):
    """first, last: UTC text, from one to before the other."""

    first: str
    last: str
    currency: str


class GroupSum(NamedTuple):
    """Rows of one group: how many, and what they come to."""

    grp: str
    number: int
    amount: int


class FigureRow(NamedTuple):
    """One row behind a figure, with its ticket and whose it is."""

    ticket_id: int
    number: int
    name: str
    at: str
    grp: str
    words: str
    amount: int


def sums(store: Store, source: str, asked: FigureSpan) -> list[GroupSum]:
    """By group, the largest first. source: of SOURCES."""
    sql = (
        f"SELECT grp, count(*) AS number, sum(amount) AS amount FROM ({_NAMED[source]}) WHERE"
        f" {_ALL_ASKED} GROUP BY grp ORDER BY amount DESC, grp"
    )
    return store.all(GroupSum, sql, asked.first, asked.last, asked.currency)


def rows(
    store: Store, source: str, asked: FigureSpan, grp: str | None = None, most: int = -1
) -> list[FigureRow]:
    """Oldest first. source: of SOURCES. grp: of one group, None for all; most: -1 for all."""
    sql = (
        "SELECT f.ticket_id, t.number, c.name, f.at, f.grp, f.words, f.amount FROM"
        f" ({_NAMED[source]}) f JOIN tickets t ON t.id = f.ticket_id JOIN customers c ON c.id ="
        f" t.customer_id WHERE {_ALL_ASKED} AND (?4 IS NULL OR f.grp = ?4) ORDER BY f.at,"
        " f.ticket_id LIMIT ?5"
    )
    return store.all(FigureRow, sql, asked.first, asked.last, asked.currency, grp, most)


def instants(store: Store, source: str, asked: FigureSpan) -> list[tuple[str, str, int]]:
    """Group, instant and amount of each row, for what is told by the shop's own days."""
    sql = f"SELECT grp, at, amount FROM ({_NAMED[source]}) WHERE {_ALL_ASKED}"
    found = store.rows(sql, asked.first, asked.last, asked.currency)
    return [(row["grp"], row["at"], int(row["amount"])) for row in found]
