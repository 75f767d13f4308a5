"""The whole shop as plain values, table by table, and back into an empty file; and all that is kept
of one customer.

What belongs to this machine alone stays behind: sessions, phones of the shop, guessing,
submissions, the list of copies, phones that get messages; and so does what opens a door: the keys,
hashed passphrases and PINs, the word of the first run.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from contextlib import contextmanager
from typing import Any, NamedTuple

from fitcounter import how_far
from fitcounter.errors import BadInput, Conflict, message
from fitcounter.store import integrity
from fitcounter.store.database import Store, dbapi, marks

OF_THE_MACHINE = (
    *("sessions", "phones", "throttle", "submissions", "backups", "_sqlite_migrations"),
    *("push_phones", "pushes"),  # they answer to the keys of this machine
    "name_words",  # made again from the names
)
_TICKETS = "SELECT id FROM tickets WHERE customer_id = :customer"
_ITEMS = f"SELECT id FROM items WHERE ticket_id IN ({_TICKETS})"
_FITS = f"SELECT id FROM fits WHERE ticket_id IN ({_TICKETS})"
_BY_TICKET = (
    "price_lines",
    "payments",
    "consents",
    "fits",
    "items",
    "photos",
    "calls",
    "wear_plans",
    "follow_ups",
    "wear_advice",
    "wear_feelings",
    "comebacks",
    "handovers",
    "promised_slots",
    "works",
    "mails",
    "push_phones",
    "pushes",
)
_BY_ITEM = (
    "tags",
    "findings",
    "gap_readings",
    "boot_readings",
    "rounds",
    "bookings",
    "steps",
    "incidents",
    "predictions",
    "work_lines",
)

# Which rows are a customer's: table → condition.
OF_CUSTOMER = {
    "customers": "id = :customer",
    "tickets": "customer_id = :customer",
    "merges": "kept_id = :customer",
    **dict.fromkeys(_BY_TICKET, f"ticket_id IN ({_TICKETS})"),
    **dict.fromkeys(_BY_ITEM, f"item_id IN ({_ITEMS})"),
    "mail_stops": "customer_id = :customer",
    "leg_readings": f"fit_id IN ({_FITS})",
    "turns": f"round_id IN (SELECT id FROM rounds WHERE item_id IN ({_ITEMS}))",
    "earlier_wears": f"plan_id IN (SELECT id FROM wear_plans WHERE ticket_id IN ({_TICKETS}))",
    "wears": f"plan_id IN (SELECT id FROM wear_plans WHERE ticket_id IN ({_TICKETS}))",
}
TAKING_OUT = message("Taking the shop out")
PUTTING_IN = message("Putting the shop in")
SECRET = ("link_hash", "link_code_hash", "share_hash", "endpoint", "p256dh", "auth")
OPENS_A_DOOR = {"staff": ("passphrase_hash", "pin_hash")}  # columns that are not taken out
_ROWS = {"settings": "WHERE key <> 'first_run'"}


def business(store: Store) -> list[str]:
    """The tables that make the shop, by name."""
    return [name for name in integrity.tables(store) if name not in OF_THE_MACHINE]


def business_hash(store: Store) -> str:
    """One hash over every value that is taken out."""
    return integrity.content_hash(
        store, {name: _statement(store, name) for name in business(store)}
    )


def columns(store: Store, table: str) -> list[str]:
    """Those that are taken out."""
    found = [str(row[1]) for row in store.db.execute(f'PRAGMA table_info("{table}")')]
    return [name for name in found if name not in OPENS_A_DOOR.get(table, ())]


def _statement(store: Store, table: str) -> str:
    names = ", ".join(f'"{name}"' for name in columns(store, table))
    order = integrity.in_order(store, table)
    return f'SELECT {names} FROM "{table}" {_ROWS.get(table, "")} ORDER BY {order}'


class Table(NamedTuple):
    """One table that is taken out. rows: as they are read, in the order they were made."""

    name: str
    columns: list[str]
    rows: Iterator[tuple[Any, ...]]


def take_out(store: Store, content: integrity.ContentHash) -> Iterator[Table]:
    """The tables that make the shop, one after the other. content: covers each row that is taken:
    after the last the same as `business_hash`.
    """
    names = business(store)
    part = how_far.Part(TAKING_OUT, lambda: sum(integrity.row_counts(store, names).values()))
    for name in names:
        rows = part.each(store.db.execute(_statement(store, name)))
        yield Table(name, columns(store, name), content.following(name, rows))


def of_customer(store: Store, customer_id: int) -> dict[str, list[dict[str, Any]]]:
    """Table → the customer's rows, without the secret of the link."""
    found: dict[str, list[dict[str, Any]]] = {}
    for table, condition in OF_CUSTOMER.items():
        order = integrity.in_order(store, table)
        rows = store.db.query(
            f"SELECT * FROM {table} WHERE {condition} ORDER BY {order}", {"customer": customer_id}
        )
        found[table] = [
            {name: value for name, value in row.items() if name not in SECRET} for row in rows
        ]
    return found


def is_empty(store: Store) -> bool:
    return not any(
        store.value(f'SELECT 1 FROM "{name}" {_ROWS.get(name, "")} LIMIT 1')
        for name in business(store)
    )


_MISFIT = message(
    "A value in this file does not fit its place, so nothing was put in. Write it anew."
)
_CHANGED = message(
    "This file does not hold what was written, so nothing was put in. Write the file anew."
)
_OTHER_VERSION = message(
    "This file was written by another version of the program. Write it anew with this one."
)


def put_in(store: Store, tables: Iterable[Table], expected_hash: str, rows: int) -> None:
    """Puts a whole shop into an empty file, all or nothing.

    tables: from outside, so that their names are held against ours before they are used; each is
    read to its end before the next is asked for. rows: how many there are of all. Raises Conflict
    (not empty), BadInput (not a shop of this version), and what reading the tables raises.
    """
    with _whole_at_its_end(store), store.write_tx():
        if not is_empty(store):
            raise Conflict(
                message("There is a shop in that folder already. Name an empty folder with --data.")
            )
        ours, part = business(store), how_far.Part(PUTTING_IN, lambda: rows)
        try:
            for table in tables:
                if table.name not in ours:
                    raise BadInput(_OTHER_VERSION, field="file")
                ours.remove(table.name)
                _put_table(store, table.name, table, part)
        except (
            dbapi.IntegrityError,
            dbapi.ProgrammingError,
            dbapi.InterfaceError,
            TypeError,
            OverflowError,
        ) as error:
            raise BadInput(_MISFIT, field="file") from error
        if ours:
            raise BadInput(_OTHER_VERSION, field="file")
        if store.db.execute("PRAGMA foreign_key_check").fetchone() is not None:
            raise BadInput(_MISFIT, field="file")
        if business_hash(store) != expected_hash or integrity.broken_link(store, None) is not None:
            raise BadInput(_CHANGED, field="file")


@contextmanager
def _whole_at_its_end(store: Store) -> Iterator[None]:
    """Rows may refer to rows that come later: it is looked at once, when all are there. Row by row
    SQLite looked through whole tables for those that had waited for each.
    """
    store.db.execute("PRAGMA foreign_keys=OFF")
    try:
        yield
    finally:
        store.db.execute("PRAGMA foreign_keys=ON")


def _put_table(store: Store, name: str, table: Table, part: how_far.Part) -> None:
    """name: of a table of ours."""
    own = columns(store, name)
    if table.columns != own:
        raise BadInput(_OTHER_VERSION, field="file")
    names = ", ".join(f'"{one}"' for one in own)
    store.db.conn.executemany(
        f'INSERT INTO "{name}" ({names}) VALUES ({marks(own)})', part.each(table.rows)
    )
