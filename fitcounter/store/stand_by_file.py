"""How a computer that stands by reads the copy of a shop: the copy read-only, and beside it a file
of its own for who signed in here, which no copy and no off-site copy ever holds.

A table that both have is found in the own file: SQLite looks for a name there first
(https://www.sqlite.org/lang_naming.html).
"""

from __future__ import annotations

from pathlib import Path
from urllib.parse import quote

from sqlite_utils import Database

from fitcounter.store.acts import Act, Written
from fitcounter.store.connection import BUSY_MS
from fitcounter.store.connections import EachOpens
from fitcounter.store.database import Store
from fitcounter.store.sqlite_build import dbapi, pragmas

# Sessions, wrong tries and what was sent, as in the shop's file, of people here. No phone is one of
# the shop's here: with PINs its sessions would be written into the shop's own table of phones.
OWN = (
    "CREATE TABLE IF NOT EXISTS phones (id INTEGER PRIMARY KEY, label TEXT, secret_hash TEXT,"
    " enrol_hash TEXT, enrol_until TEXT, enrolled_at TEXT, enrolled_by INTEGER,"
    " last_seen_at TEXT, struck_at TEXT)",
    "CREATE TABLE IF NOT EXISTS sessions (id INTEGER PRIMARY KEY, token_hash TEXT NOT NULL UNIQUE,"
    " staff_id INTEGER NOT NULL, phone_id INTEGER, started_at TEXT NOT NULL,"
    " seen_at TEXT NOT NULL, ends_at TEXT NOT NULL, ended_at TEXT, who_id INTEGER, who_at TEXT,"
    " proved_at TEXT, device TEXT NOT NULL DEFAULT '')",
    "CREATE TABLE IF NOT EXISTS throttle (key TEXT PRIMARY KEY, failures INTEGER NOT NULL,"
    " next_at TEXT NOT NULL)",
    "CREATE TABLE IF NOT EXISTS submissions (id TEXT PRIMARY KEY, body_hash TEXT NOT NULL,"
    " result TEXT NOT NULL, at TEXT NOT NULL)",
)
OWN_TABLES = ("phones", "sessions", "throttle", "submissions")


class StandByStore(Store):
    """One connection to the own file and, read-only, to the copy of the shop."""

    follow_ups = ()

    def __init__(self, own: Path, shop: Path) -> None:
        self.path, self.read_only, self._log = shop, True, f"{shop}-wal"
        connection = dbapi.connect(
            f"file:{quote(str(own.absolute()))}",
            isolation_level=None,
            timeout=BUSY_MS / 1000,
            uri=True,
        )
        try:
            for pragma in pragmas(False, BUSY_MS):
                connection.execute(f"PRAGMA {pragma}").fetchall()
            for table in OWN:
                connection.execute(table)
            copy = f"file:{quote(str(shop.absolute()))}?mode=ro&immutable=1"
            connection.execute("ATTACH ? AS shop", [copy])
        except BaseException:
            connection.close()
            raise
        self.db = Database(connection, execute_plugins=False)

    def change(
        self, table: str, row_id: int, version: int | None = None, **columns: object
    ) -> None:
        """As everywhere, but the shop's own rows stay as they are: a passphrase that would be
        hashed anew at signing in is hashed anew at the shop.
        """
        if table in OWN_TABLES:
            super().change(table, row_id, version, **columns)

    def audit(self, act: Act, what: str, written: Written) -> None:
        """The log of who did what is the shop's: it goes on there."""


class StandByFile(EachOpens):
    """Every request reads the copy that is the newest when it begins."""

    def __init__(self, own: Path, newest: Path) -> None:
        """newest: the copy, below a link that is put on to each newer one."""
        super().__init__(newest)
        self.own = own

    def enter(self) -> Store:
        return StandByStore(self.own, self.path.resolve())
