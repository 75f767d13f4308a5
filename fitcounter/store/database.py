"""Opens the shop's one SQLite file, and the only place that begins a write.

Every write begins IMMEDIATE: a deferred BEGIN that reads first loses the race for the write
lock at once, whatever the busy timeout says.
"""

from __future__ import annotations

import os
import re
import weakref
from collections.abc import Callable, Hashable, Iterator, Sequence, Sized
from contextlib import contextmanager, suppress
from operator import itemgetter
from pathlib import Path
from typing import Any, TypeVar, cast

from fitcounter.errors import BadInput, Conflict, message
from fitcounter.store import audit_key, job_log, open_files
from fitcounter.store.acts import Act, Written, audit_hash, utc_text, utc_time
from fitcounter.store.connection import BUSY_MS, connected
from fitcounter.store.refusals import integrity_sentence, operational
from fitcounter.store.row_records import insertion, records_of
from fitcounter.store.sqlite_build import dbapi, journal, wal_is_safe

__all__ = [
    "Act",
    "Store",
    "Written",
    "audit_hash",
    "dbapi",
    "in_use",
    "journal",
    "marks",
    "utc_text",
    "utc_time",
    "wal_is_safe",
]

APPLICATION_ID = 0x66697463  # "fitc": a foreign file is refused
LONG_LOG_BYTES = 16 * 1024 * 1024
FIRST_HASH = "0" * 64
_COLUMN = itemgetter(0)  # the name, in what a cursor tells of a column

Record = TypeVar("Record")


class Store:
    """One connection to the shop's file: a request's or a command's, of one thread at a time.

    follow_ups: what must follow every change, told what it was, in its transaction after its work.
    The desk sets them for all stores (`fitcounter/desk/__init__.py`); this room knows none.
    """

    follow_ups: tuple[Callable[[Store, Act, str, Written], None], ...] = ()

    def __init__(self, path: Path, read_only: bool = False, any_thread: bool = False) -> None:
        """read_only: for looking at a file that nobody else has open; nothing beside it is made or
        changed.

        any_thread: one after the other.
        """
        self.path, self.read_only, self._log = path, read_only, f"{path}-wal"
        self._folder = path.parent
        if read_only:
            self.db = connected(path, read_only, any_thread)
            return
        open_files.enter(path)
        try:
            self.db = connected(path, read_only, any_thread)
        except BaseException:
            open_files.closed(path)
            raise
        self._forget = weakref.finalize(self, open_files.closed, path)
        self._forget.atexit = False
        open_files.opened(path)

    def close(self) -> None:
        """The last to leave brings the log into the file; where somebody always stays, a long log
        is brought in now.
        """
        self.bring_in_long_log()
        self.db.conn.close()
        if not self.read_only:
            self._forget()

    def bring_in_long_log(self) -> None:
        """Never at a count of pages, as SQLite does by itself: a second place that follows the log
        was seen to have a hole then.
        """
        with suppress(OSError, dbapi.Error):
            if (
                not self.read_only
                and os.stat(self._log).st_size > LONG_LOG_BYTES
                and not job_log.is_followed(self._folder)
            ):
                self.db.conn.execute(
                    "PRAGMA busy_timeout=0"
                )  # nobody waits for it: whoever leaves next tries again
                self.db.conn.execute("PRAGMA wal_checkpoint(TRUNCATE)")
                self.db.conn.execute(f"PRAGMA busy_timeout={BUSY_MS}")

    def all(self, kind: type[Record], sql: str, *values: object) -> list[Record]:
        """Rows as records; the columns of the statement must cover the record's fields."""
        cursor = self.db.conn.execute(sql, values)
        columns = tuple(map(_COLUMN, cursor.description))
        return records_of(cast(Hashable, kind), columns)(cursor)

    def first(self, kind: type[Record], sql: str, *values: object) -> Record | None:
        found = self.all(kind, sql, *values)
        return found[0] if found else None

    def rows(self, sql: str, *values: object) -> list[dict[str, Any]]:
        # not by Database.query: it wraps each question in a savepoint of its own, so that it may
        # also take statements that write
        cursor = self.db.conn.execute(sql, values)
        names = tuple(map(_COLUMN, cursor.description))
        return [dict(zip(names, row, strict=True)) for row in cursor]

    def value(self, sql: str, *values: object) -> Any:
        """The first column of the first row, or None."""
        row = self.db.conn.execute(sql, list(values)).fetchone()
        return None if row is None else row[0]

    def insert(self, table: str, **columns: object) -> int:
        """Adds one row inside a write and returns its id."""
        names = ", ".join(columns)
        cursor = self.db.conn.execute(
            f"INSERT INTO {table} ({names}) VALUES ({marks(columns)})", list(columns.values())
        )
        return int(cursor.lastrowid or 0)

    def insert_all(self, table: str, records: Sequence[object]) -> None:
        """Adds records of one kind as rows inside a write, in their order; the file gives each its
        id.
        """
        if records:
            sql, values = insertion(table, cast(Hashable, type(records[0])))
            self.db.conn.executemany(sql, map(values, records))

    def change(
        self, table: str, row_id: int, version: int | None = None, **columns: object
    ) -> None:
        """Changes one row inside a write.

        With a version the row must still have it, else Conflict; the version goes up by one.
        """
        values: list[object] = [*columns.values(), row_id]
        versioned = version is not None
        sets = ", ".join(
            [
                *(f"{name} = ?" for name in columns),
                *(["version = version + 1"] if versioned else []),
            ]
        )
        sql = f"UPDATE {table} SET {sets} WHERE id = ?"
        if versioned:
            sql += " AND version = ?"
            values.append(version)
        if self.db.conn.execute(sql, values).rowcount == 0:
            sentence = message("Someone changed this while you were typing. Look, then save again.")
            raise Conflict(sentence)

    @contextmanager
    def write_tx(self) -> Iterator[None]:
        """All or nothing.

        Errors of the database become sentences; nothing was written when one is raised.
        """
        try:
            self.db.conn.execute("BEGIN IMMEDIATE")
            try:
                open_files.check(self.path)
                yield
                self.db.conn.execute("COMMIT")
            except BaseException:
                if self.db.conn.in_transaction:
                    self.db.conn.execute("ROLLBACK")
                raise
        except dbapi.IntegrityError as error:
            raise Conflict(integrity_sentence(str(error))) from error
        except dbapi.OperationalError as error:
            raise operational(error) from error

    @contextmanager
    def one_moment(self) -> Iterator[None]:
        """Whatever is read inside is the shop of one moment. With a write-ahead log everybody goes
        on writing meanwhile, else nobody can.
        """
        self.db.conn.execute("BEGIN")
        try:
            yield
        finally:
            self.db.conn.execute("ROLLBACK")

    def once(self, act: Act, what: str, work: Callable[[], Written]) -> Written:
        """Does the work, its audit row and its submission in one transaction; a repeat of the
        submission gives the first result.

        what: plain words for the audit, without names or numbers of people.
        """
        with self.write_tx():
            seen = self._seen(act)
            if seen is not None:
                return seen
            written = work()
            for follow_up in self.follow_ups:
                follow_up(self, act, what, written)
            self.audit(act, what, written)
            if act.submission_id is not None:
                self.insert(
                    "submissions",
                    id=act.submission_id,
                    body_hash=act.body_hash,
                    result=written.as_text(),
                    at=utc_text(act.at),
                )
        return written

    def _seen(self, act: Act) -> Written | None:
        if act.submission_id is None:
            return None
        if not re.fullmatch(r"[A-Za-z0-9_-]{8,64}", act.submission_id):
            raise BadInput(
                message("This page is too old to save. Load it again: what you typed is kept."),
                field="submission_id",
            )
        rows = self.rows(
            "SELECT body_hash, result FROM submissions WHERE id = ?", act.submission_id
        )
        if not rows:
            return None
        if rows[0]["body_hash"] != act.body_hash:
            raise Conflict(
                message(
                    "This form was saved before with another text. Load the page again and save"
                    " only the change."
                ),
                field="submission_id",
            )
        return Written.from_text(rows[0]["result"])

    def audit(self, act: Act, what: str, written: Written) -> None:
        """Adds one link to the chain: each row's hash covers its own words and the hash before
        it.
        """
        previous = self.value("SELECT hash FROM audit ORDER BY id DESC LIMIT 1") or FIRST_HASH
        row: dict[str, object] = {
            "at": utc_text(act.at),
            "staff_id": act.staff_id,
            "phone_id": act.phone_id,
            "what": what,
            "ticket_id": written.ticket_id,
            "item_id": written.item_id,
            "detail": written.detail_as_text(),
        }
        key = audit_key.of_folder(self._folder)
        own = audit_hash(previous, row, key.key if key else b"")
        self.insert("audit", **row, previous_hash=previous, hash=own)


def marks(values: Sized) -> str:
    """The places of these values in a list of a statement: "?, ?" for two."""
    return ", ".join("?" * len(values))


def in_use(path: Path) -> bool:
    """Does somebody hold the file open for writing? A wreck that cannot be opened is in nobody's
    use.
    """
    if not path.exists():
        return False
    connection = dbapi.connect(str(path), isolation_level=None, timeout=0)
    try:
        connection.execute("BEGIN EXCLUSIVE")
        connection.execute("ROLLBACK")
    except dbapi.OperationalError as error:
        return "locked" in str(error)
    except dbapi.DatabaseError:
        return False
    finally:
        connection.close()
    return False
