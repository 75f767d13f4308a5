"""One field that finds: a tag, a spoken number, a name from two letters, the last four of a phone.

Slips of one letter are forgiven.
"""

from __future__ import annotations

from collections.abc import Sequence

from fitcounter.store.customers import name_key
from fitcounter.store.database import Store, marks
from fitcounter.store.records import Customer, Ticket

MOST = 12
COMMON = 500  # a beginning that so many words have: the newest customers are looked through first
NEWEST = 2000  # so many of them
MOST_WORDS = 5000  # few enough to compare letter by letter


def by_number(store: Store, number: int) -> list[Ticket]:
    """The open ticket with this number first, then the last ones that had it."""
    sql = "SELECT * FROM tickets WHERE number = ? ORDER BY state <> 'open', id DESC LIMIT 3"
    return store.all(Ticket, sql, number)


def of_customers(store: Store, ids: list[int]) -> list[Ticket]:
    """Their tickets: open ones first, then the newest."""
    sql = (
        f"SELECT * FROM tickets WHERE customer_id IN ({marks(ids)}) ORDER BY state <> 'open', id"
        f" DESC LIMIT {MOST}"
    )
    return store.all(Ticket, sql, *ids) if ids else []


def by_last4(store: Store, last4: str) -> list[Customer]:
    return store.all(
        Customer,
        "SELECT * FROM customers WHERE phone_last4 = ? AND erased_at IS NULL ORDER BY id DESC"
        f" LIMIT {MOST}",
        last4,
    )


def by_words(store: Store, typed: str) -> list[Customer]:
    """Every typed word begins a word of the name, in any order; one word alone has at least two
    letters. Newest first.
    """
    words = name_key(typed).split()
    if len("".join(words)) < 2:
        return []
    rarest = min(words, key=lambda word: _names_with(store, word))
    if _names_with(store, rarest) < COMMON:
        begins = f"id IN (SELECT customer_id FROM name_words WHERE {_BEGINS})"
        others = [word for word in words if word != rarest]
        return _named(store, begins, _range(rarest), others)
    newest = _named(store, "id > (SELECT MAX(id) FROM customers) - ?", [NEWEST], words)
    return newest if len(newest) == MOST else _named(store, *_with_all(words), [])


_BEGINS = "word >= ? AND word < ?"


def _range(word: str) -> list[str]:
    return [word, f"{word}\U0010ffff"]


def _names_with(store: Store, word: str) -> int:
    """How many words of names begin so, counted no further than COMMON."""
    sql = f"SELECT COUNT(*) n FROM (SELECT 1 FROM name_words WHERE {_BEGINS} LIMIT {COMMON})"
    return int(store.rows(sql, *_range(word))[0]["n"])


def _with_all(words: list[str]) -> tuple[str, list[str]]:
    """The condition of having all these words, and its values: the way for many rows."""
    begins = f"SELECT customer_id FROM name_words WHERE {_BEGINS}"
    every = " INTERSECT ".join([begins] * len(words))
    return f"id IN ({every})", [end for word in words for end in _range(word)]


def _named(store: Store, first: str, values: Sequence[object], words: list[str]) -> list[Customer]:
    """The newest of those picked by the first condition in whose name each word begins a word."""
    also = (
        f" AND EXISTS (SELECT 1 FROM name_words WHERE customer_id = customers.id AND {_BEGINS})"
        * len(words)
    )
    sql = (
        f"SELECT * FROM customers WHERE {first} AND erased_at IS NULL{also}"
        f" ORDER BY id DESC LIMIT {MOST}"
    )
    return store.all(Customer, sql, *values, *(end for word in words for end in _range(word)))


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
    sql = (
        "SELECT * FROM tickets WHERE state = 'open' AND id IN (SELECT ticket_id FROM items WHERE"
        " ticket_id IN (SELECT id FROM tickets WHERE state = 'open') AND (description LIKE ?"
        f" ESCAPE '\\' OR jobs LIKE ? ESCAPE '\\' OR kind IN ({marks(kinds)}))) ORDER BY"
        f" promise_day IS NULL, promise_day, number LIMIT {MOST}"
    )
    return store.all(Ticket, sql, f"%{like}%", f"%{like}%", *kinds)


def open_names(store: Store) -> list[Customer]:
    """The customers of open tickets: few enough to compare letter by letter."""
    sql = (
        "SELECT * FROM customers WHERE erased_at IS NULL AND id IN (SELECT customer_id FROM tickets"
        " WHERE state = 'open')"
    )
    return store.all(Customer, sql)


def words_like(store: Store, begin: str) -> list[tuple[str, int]]:
    """Words of names with their customers, of those that begin so: at least two letters."""
    if len(begin) < 2:
        return []
    sql = (
        "SELECT w.word, w.customer_id FROM name_words w JOIN customers c ON c.id = w.customer_id"
        f" WHERE w.word >= ? AND w.word < ? AND c.erased_at IS NULL LIMIT {MOST_WORDS}"
    )
    rows = store.rows(sql, begin, f"{begin}\U0010ffff")
    return [(row["word"], int(row["customer_id"])) for row in rows]
