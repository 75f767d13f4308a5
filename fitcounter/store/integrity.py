"""What a file holds, as one hash, and whether it is sound.

SQLite's integrity_check is no content check: a bit that flips inside a girth often passes it. So a
backup carries a hash over every value of every row, and the audit is a chain in which each row
covers the one before.
"""

from __future__ import annotations

import hashlib
from collections import deque
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Any, NamedTuple

from fitcounter import how_far
from fitcounter.errors import message
from fitcounter.store import audit_key
from fitcounter.store.audit_key import AuditKey
from fitcounter.store.database import FIRST_HASH, Store, audit_hash, dbapi

READING = message("Reading it to its end")
FOLLOWING = message("Following the log")
Row = tuple[Any, ...]
AUDITED = ("at", "staff_id", "phone_id", "what", "ticket_id", "item_id", "detail")


class Soundness(NamedTuple):
    """What was found: sentences, empty when all is well; the hash of the content; rows by table."""

    faults: tuple[str, ...]
    content_hash: str
    rows: dict[str, int]

    @property
    def sound(self) -> bool:
        return not self.faults


def tables(store: Store) -> list[str]:
    """Every table of the file by name, SQLite's own left out."""
    rows = store.rows(
        "SELECT name FROM sqlite_master WHERE type = 'table' AND name NOT LIKE 'sqlite_%' ORDER BY"
        " name"
    )
    return [str(row["name"]) for row in rows]


def in_order(store: Store, table: str) -> str:
    """The columns that say which of a table's rows comes first: the order they were made in, or
    of its key where it keeps its rows by that.
    """
    if not store.value("SELECT wr FROM pragma_table_list WHERE name = ?", table):
        return "rowid"
    sql = "SELECT name FROM pragma_table_info(?) WHERE pk > 0 ORDER BY pk"
    names = [str(row["name"]).replace('"', '""') for row in store.rows(sql, table)]
    return ", ".join(f'"{name}"' for name in names)


def all_rows(store: Store, table: str) -> str:
    """The statement that gives every value of a table."""
    order = in_order(store, table)
    return f'SELECT * FROM "{table}" ORDER BY {order}'


def row_counts(store: Store, names: Iterable[str]) -> dict[str, int]:
    """How many rows each of these tables has."""
    return {name: int(store.value(f'SELECT count(*) FROM "{name}"')) for name in names}


class ContentHash:
    """SHA-256 over every value of every row that is read, with its type, and over the statements
    that made the tables.
    """

    def __init__(self, store: Store) -> None:
        self._digest = hashlib.sha256()
        for row in store.rows(
            "SELECT name, sql FROM sqlite_master WHERE name NOT LIKE 'sqlite_%' ORDER BY type, name"
        ):
            self._digest.update(f"{row['name']}\0{row['sql']}\0".encode())

    def following(self, name: str, rows: Iterable[Row]) -> Iterator[Row]:
        """The same rows of the table of this name, each covered once it is taken."""
        self._digest.update(f"\1{name}\1".encode())
        for row in rows:
            self._digest.update(repr(tuple(row)).encode("utf-8", "surrogatepass"))
            yield row

    def hexdigest(self) -> str:
        return self._digest.hexdigest()


def content_hash(store: Store, only: Mapping[str, str] | None = None) -> str:
    """One hash over the rows of every table.

    only: table → the statement that gives its rows, where not all tables, rows or columns are asked
    for.
    """
    rows = only if only is not None else {name: all_rows(store, name) for name in tables(store)}
    content = ContentHash(store)
    part = how_far.Part(READING, lambda: sum(row_counts(store, rows).values()))
    for name, statement in rows.items():
        deque(content.following(name, part.each(store.db.execute(statement))), maxlen=0)
    return content.hexdigest()


def look(path: Path, expected_hash: str = "", key: AuditKey | None = None) -> Soundness:
    """Reads a whole file, writing nothing. expected_hash: of its content, where it is known. key:
    of its audit, where it is not the one that lies beside it.
    """
    if not path.is_file():
        return Soundness((message("{name} is not there.", name=path.name),), "", {})
    try:
        store = Store(path, read_only=True)
    except dbapi.Error as error:
        return Soundness(
            (message("{name} cannot be opened: {error}.", name=path.name, error=error),), "", {}
        )
    try:
        faults = [*_faults(store, key or audit_key.of_folder(path.parent))]
        found = content_hash(store)
        rows = row_counts(store, tables(store))
    except (dbapi.Error, ValueError, TypeError, OverflowError) as error:
        return Soundness(
            (message("{name} cannot be read to the end: {error}.", name=path.name, error=error),),
            "",
            {},
        )
    finally:
        store.close()
    if expected_hash and found != expected_hash:
        faults.append(
            message(
                "{name} does not hold what was written: its content has another hash.",
                name=path.name,
            )
        )
    return Soundness(tuple(faults), found, rows)


# What SQLite and its Python module say of pages that are not what was written, or that the disk
# does not give back.
_OF_DAMAGE = ("malformed", "not a database", "decode to UTF-8", "disk I/O error")


def is_of_damage(error: BaseException) -> bool:
    """Does this error say that the file itself is damaged?"""
    return isinstance(error, dbapi.DatabaseError) and any(
        words in str(error) for words in _OF_DAMAGE
    )


def damage(store: Store) -> str:
    """What a quick look at every page finds first, in SQLite's words; '' where all are whole."""
    try:
        found = str(store.value("PRAGMA quick_check(1)"))
    except dbapi.DatabaseError as error:
        return str(error)
    return "" if found == "ok" else found


def _faults(store: Store, key: AuditKey | None) -> Iterator[str]:
    found = [str(row[0]) for row in store.db.execute("PRAGMA integrity_check(20)")]
    if found != ["ok"]:
        yield message("The file is damaged: {fault}.", fault=found[0])
    lost = store.db.execute("PRAGMA foreign_key_check").fetchall()
    if lost:
        yield message("Rows that belong to rows that are not there: {count}.", count=len(lost))
    broken = broken_link(store, key)
    if broken is not None:
        yield message("The log of who did what is changed from row {row} on.", row=broken)


def broken_link(store: Store, key: AuditKey | None) -> int | None:
    """The first row of the audit that does not follow from the one before, None where the chain is
    whole.

    key: of this shop. Without it the links alone are held against each other, and the hashes of
    rows that were written before there was a key.
    A row at a time: after some years the audit is millions of rows, and every copy and every look
    at the health page reads it.
    """
    previous, keyed_from = FIRST_HASH, None
    rows = store.db.execute(
        f"SELECT id, previous_hash, hash, {', '.join(AUDITED)} FROM audit ORDER BY id"
    )
    for row_id, before, own, *told in how_far.Part(FOLLOWING, lambda: audit_rows(store)).each(rows):
        row = dict(zip(AUDITED, told, strict=True))
        if before != previous:
            return int(row_id)
        if key is not None:
            if not _follows(row_id, own, previous, row, key):
                return int(row_id)
        elif own != audit_hash(previous, row):
            keyed_from = keyed_from or row_id
        elif keyed_from is not None:  # no program writes without a key after it had one
            return int(keyed_from)
        previous = own
    return None


def _follows(row_id: int, own: str, previous: str, row: dict[str, object], key: AuditKey) -> bool:
    if own == audit_hash(previous, row, key.key) or row_id <= key.unproved:
        return True
    return row_id < key.first and own == audit_hash(previous, row)


def new_key(store: Store) -> AuditKey:
    """A key for a shop that has none: behind rows that were written without one, or with one that
    is lost.
    """
    hashes = store.db.execute(f"SELECT previous_hash, hash, {', '.join(AUDITED)} FROM audit")
    plain = all(
        own == audit_hash(before, dict(zip(AUDITED, told, strict=True)))
        for before, own, *told in hashes
    )
    last = int(store.value("SELECT coalesce(max(id), 0) FROM audit"))
    return audit_key.drawn(last, unproved=not plain)


@dataclass(frozen=True, slots=True)
class Head:
    """The last row of an audit, as a copy notes it."""

    row: int
    hash: str


def head(store: Store) -> Head:
    """The last row of the audit; row 0 before there is one."""
    rows = store.rows("SELECT id, hash FROM audit ORDER BY id DESC LIMIT 1")
    return Head(int(rows[0]["id"]), str(rows[0]["hash"])) if rows else Head(0, FIRST_HASH)


def holds(store: Store, noted: Head) -> bool:
    """Is the row that was the last one then still there, and as it was?"""
    found = store.value("SELECT hash FROM audit WHERE id = ?", noted.row)
    return noted.row == 0 or found == noted.hash


def first_link(store: Store) -> str | None:
    """The hash of the audit's first row, which tells one shop from another; None before there is
    one.
    """
    found = store.value("SELECT hash FROM audit ORDER BY id LIMIT 1")
    return None if found is None else str(found)


def audit_rows(store: Store) -> int:
    """How long the audit is."""
    return int(store.value("SELECT count(*) FROM audit"))


def last_written_at(store: Store) -> str | None:
    """The latest instant in the audit (UTC text); None before there is a row."""
    found = store.value("SELECT max(at) FROM audit")
    return None if found is None else str(found)
