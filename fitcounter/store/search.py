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
    like = _plain(key)
    # the first name by the index, any other word by the open tickets: a list over all customers
    # would grow with the years
    sql = (
        "SELECT * FROM (SELECT * FROM customers WHERE name_key >= ? AND name_key < ? AND erased_at"
        f" IS NULL ORDER BY id DESC LIMIT {MOST}) UNION SELECT * FROM customers WHERE id IN (SELECT"
        " customer_id FROM tickets WHERE state = 'open') AND name_key LIKE ? ESCAPE '\\' AND"
        f" erased_at IS NULL LIMIT {MOST}"
    )
    return store.all(Customer, sql, key, key + "\U0010ffff", f"%{like}%")


def by_words(store: Store, typed: str) -> list[Customer]:
    """Every typed word begins a word of the name, in any order. Newest first."""
    words = name_key(typed).split()
    if len(words) < 2:
        return by_name(store, typed)
    likes = [f"% {_plain(word)}%" for word in words]
    all_of = " AND ".join(["name_key LIKE ? ESCAPE '\\'"] * len(words))
    # each word may be the first one, by the index; of open tickets any
    sql = f"SELECT * FROM customers WHERE {{}} AND erased_at IS NULL AND {all_of} LIMIT {MOST}"
    first = sql.format("name_key >= ? AND name_key < ?")
    opened = sql.format("id IN (SELECT customer_id FROM tickets WHERE state = 'open')")
    found = {one.id: one for one in store.all(Customer, opened, *likes)}
    for word in words:
        key = f" {word}"
        for one in store.all(Customer, first, key, key + "\U0010ffff", *likes):
            found[one.id] = one
    return sorted(found.values(), key=lambda one: -one.id)


def _plain(piece: str) -> str:
    """As a part of a LIKE pattern that stands for itself."""
    return "".join(f"\\{one}" if one in "%_\\" else one for one in piece)


def by_item_words(store: Store, piece: str, kinds: list[str]) -> list[Ticket]:
    """Open tickets with a thing of one of these kinds, or whose description or work has the typed
    letters. piece: at least three.
    """
    if len(piece) < 3:
        return []
    like = _plain(piece)
    marks = ", ".join("?" * len(kinds))
    sql = (
        "SELECT * FROM tickets WHERE state = 'open' AND id IN (SELECT ticket_id FROM items WHERE"
        " ticket_id IN (SELECT id FROM tickets WHERE state = 'open') AND (description LIKE ?"
        f" ESCAPE '\\' OR jobs LIKE ? ESCAPE '\\' OR kind IN ({marks}))) ORDER BY promise_day IS"
        f" NULL, promise_day, number LIMIT {MOST}"
    )
    return store.all(Ticket, sql, f"%{like}%", f"%{like}%", *kinds)


def open_names(store: Store) -> list[Customer]:
    """The customers of open tickets: few enough to compare letter by letter."""
    sql = (
        "SELECT * FROM customers WHERE erased_at IS NULL AND id IN (SELECT customer_id FROM tickets"
        " WHERE state = 'open')"
    )
    return store.all(Customer, sql)
