"""One field that finds: a tag, a spoken number, a name from two letters, the last four of a phone.

Slips of one letter are forgiven.
"""

from __future__ import annotations

from fitcounter.store.customers import name_key
from fitcounter.store.database import Store
from fitcounter.store.records import Customer, Ticket

MOST = 12


def by_number(store: Store, number: int) -> list[Ticket]:
    """The open ticket with this number first, then the last ones that had it."""
    sql = "SELECT * FROM tickets WHERE number = ? ORDER BY state <> 'open', id DESC LIMIT 3"
    return store.all(Ticket, sql, number)


def of_customers(store: Store, ids: list[int]) -> list[Ticket]:
    """Their tickets: open ones first, then the newest."""
    marks = ", ".join("?" * len(ids))
    sql = (
        f"SELECT * FROM tickets WHERE customer_id IN ({marks}) ORDER BY state <> 'open', id DESC"
        f" LIMIT {MOST}"
    )
    return store.all(Ticket, sql, *ids) if ids else []


def by_last4(store: Store, last4: str) -> list[Customer]:
    return store.all(
        Customer,
        "SELECT * FROM customers WHERE phone_last4 = ? AND erased_at IS NULL ORDER BY id DESC"
        f" LIMIT {MOST}",
        last4,
    )


def by_name(store: Store, piece: str) -> list[Customer]:
    """A word of the name begins so. piece: at least two letters as typed. Newest first."""
    key = name_key(piece)
    if len(key.strip()) < 2:
        return []
    like = "".join(f"\\{one}" if one in "%_\\" else one for one in key)
    # the first name by the index, any other word by the open tickets: a list over all customers
    # would grow with the years
    sql = (
        "SELECT * FROM (SELECT * FROM customers WHERE name_key >= ? AND name_key < ? AND erased_at"
        f" IS NULL ORDER BY id DESC LIMIT {MOST}) UNION SELECT * FROM customers WHERE id IN (SELECT"
        " customer_id FROM tickets WHERE state = 'open') AND name_key LIKE ? ESCAPE '\\' AND"
        f" erased_at IS NULL LIMIT {MOST}"
    )
    return store.all(Customer, sql, key, key + "\U0010ffff", f"%{like}%")


def open_names(store: Store) -> list[Customer]:
    """The customers of open tickets: few enough to compare letter by letter."""
    sql = (
        "SELECT * FROM customers WHERE erased_at IS NULL AND id IN (SELECT customer_id FROM tickets"
        " WHERE state = 'open')"
    )
    return store.all(Customer, sql)
