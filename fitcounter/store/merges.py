"""Two entries of one person made one: the other one's tickets go to the one that stays, and what
stood there is kept for a while, so that it can be undone.
"""

from __future__ import annotations

import json
from typing import Any, NamedTuple

from fitcounter.store.customers import name_key
from fitcounter.store.database import Act, Store, utc_text
from fitcounter.store.records import Customer

NAME = "merged"  # what the empty entry is called
UNDO_DAYS = 30
GONE = "{}"  # what stood there is not kept any more
_SEVERAL = 8
# What a person typed about a customer, with what is worked out from it.
_COLUMNS = (
    *("name", "name_key", "phone_typed", "phone_e164", "phone_last4"),
    *("email", "language", "note"),
)


class Merge(NamedTuple):
    """before: JSON of both entries as they stood and the ids of the tickets that moved; "{}" once
    it cannot be undone.
    """

    id: int
    kept_id: int
    gone_id: int
    gone_created_at: str
    at: str
    staff_id: int | None
    before: str
    undone_at: str | None


def alike(store: Store, customer: Customer) -> list[Customer]:
    """Other customers with the same number, e-mail or name, whatever the order of its words; the
    newest first.
    """
    found = {one.id: one for one in (*_same_way(store, customer), *_same_name(store, customer))}
    found.pop(customer.id, None)
    return sorted(found.values(), key=lambda one: -one.id)[:_SEVERAL]


def _same_way(store: Store, customer: Customer) -> list[Customer]:
    """Reached by the same number or e-mail. A number without its country counts by its last four
    digits.
    """
    number = (
        "phone_last4 = ? AND phone_last4 <> '' AND (phone_e164 = ? OR phone_e164 = '' OR ? = '')"
    )
    e164 = customer.phone_e164
    asked: list[tuple[str, tuple[object, ...]]] = [(number, (customer.phone_last4, e164, e164))]
    if customer.email:
        asked.append(("email <> '' AND email = ? COLLATE NOCASE", (customer.email,)))
    sql = "SELECT * FROM customers WHERE {} AND erased_at IS NULL ORDER BY id DESC LIMIT 9"
    return [one for way, values in asked for one in store.all(Customer, sql.format(way), *values)]


def _same_name(store: Store, customer: Customer) -> list[Customer]:
    words = name_key(customer.name).split()
    if not words:
        return []
    has = "SELECT customer_id FROM name_words WHERE word = ?"
    all_of = " INTERSECT ".join([has] * len(words))
    sql = (
        f"SELECT * FROM customers WHERE id IN ({all_of}) AND erased_at IS NULL ORDER BY id DESC"
        " LIMIT 40"
    )
    of_all = store.all(Customer, sql, *words)
    return [one for one in of_all if sorted(name_key(one.name).split()) == sorted(words)]


def merge(
    store: Store, act: Act, kept: Customer, gone: Customer, details: dict[str, object]
) -> list[int]:
    """Moves the tickets of `gone` to `kept` and empties its entry, inside a write; the ids of the
    tickets. details: columns of `kept` from now on.
    """
    rows = store.rows("SELECT id FROM tickets WHERE customer_id = ? ORDER BY id", gone.id)
    moved = [int(row["id"]) for row in rows]
    before = {
        "kept": _columns(store, kept.id),
        "gone": _columns(store, gone.id),
        "version": kept.version + 1,
        "tickets": moved,
    }
    for ticket_id in moved:
        store.change("tickets", ticket_id, customer_id=kept.id)
    store.db.execute("UPDATE drafts SET customer_id = ? WHERE customer_id = ?", [kept.id, gone.id])
    empty: dict[str, object] = {**dict.fromkeys(_COLUMNS, ""), "name": NAME, "language": "en"}
    at = utc_text(act.at)
    store.change("customers", gone.id, gone.version, **empty, erased_at=at)
    store.change("customers", kept.id, kept.version, **details)
    store.insert(
        "merges",
        kept_id=kept.id,
        gone_id=gone.id,
        gone_created_at=gone.created_at,
        at=at,
        staff_id=act.staff_id,
        before=json.dumps(before, ensure_ascii=False),
    )
    return moved


def _columns(store: Store, customer_id: int) -> dict[str, Any]:
    columns = ", ".join(_COLUMNS)
    return store.rows(f"SELECT {columns} FROM customers WHERE id = ?", customer_id)[0]


def last(store: Store, kept_id: int) -> Merge | None:
    """The merge of this customer that can be undone next."""
    sql = (
        "SELECT * FROM merges WHERE kept_id = ? AND undone_at IS NULL AND before <> '{}' ORDER BY"
        " id DESC LIMIT 1"
    )
    return store.first(Merge, sql, kept_id)


def name_before(merge: Merge) -> str:
    """What the other entry was called."""
    return str(json.loads(merge.before)["gone"]["name"])


def undo(store: Store, act: Act, merge: Merge) -> list[int]:
    """Parts the two again, inside a write; the ids of the tickets that went back.

    Tickets since stay with the one that was kept; so do its details, where somebody changed them.
    """
    before = json.loads(merge.before)
    store.change("customers", merge.gone_id, **before["gone"], erased_at=None)
    kept = store.rows("SELECT version FROM customers WHERE id = ?", merge.kept_id)[0]
    if kept["version"] == before["version"]:
        store.change("customers", merge.kept_id, kept["version"], **before["kept"])
    back = [
        int(ticket_id)
        for ticket_id in before["tickets"]
        if store.value("SELECT customer_id FROM tickets WHERE id = ?", ticket_id) == merge.kept_id
    ]
    for ticket_id in back:
        store.change("tickets", ticket_id, customer_id=merge.gone_id)
    store.change("merges", merge.id, before=GONE, undone_at=utc_text(act.at))
    return back


def forget(store: Store, until: str) -> int:
    """Drops what stood there before merges up to an instant (UTC text), inside a write: they
    cannot be undone any more. How many.
    """
    sql = "UPDATE merges SET before = '{}' WHERE before <> '{}' AND at < ?"
    return int(store.db.execute(sql, [until]).rowcount)


def merged_into(store: Store, customer_id: int) -> list[tuple[int, str]]:
    """Entries that went into this one, and into those: id and when each was made."""
    sql = (
        "WITH RECURSIVE into_it(id, created_at) AS (SELECT gone_id, gone_created_at FROM merges"
        " WHERE kept_id = ? AND undone_at IS NULL UNION SELECT m.gone_id, m.gone_created_at FROM"
        " merges m JOIN into_it i ON m.kept_id = i.id WHERE m.undone_at IS NULL) SELECT * FROM"
        " into_it"
    )
    return [(int(row["id"]), str(row["created_at"])) for row in store.rows(sql, customer_id)]


def forget_of(store: Store, customer_id: int) -> None:
    """The same for all that went into one customer, inside a write: it is being erased."""
    for kept_id in (customer_id, *(one for one, _ in merged_into(store, customer_id))):
        store.db.execute("UPDATE merges SET before = '{}' WHERE kept_id = ?", [kept_id])
