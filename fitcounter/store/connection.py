"""A connection to an SQLite file as every one of ours is: all pragmas, and no transaction but those
that are begun by name.
"""

from __future__ import annotations

from pathlib import Path
from urllib.parse import quote

from sqlite_utils import Database

from fitcounter.store import open_files
from fitcounter.store.sqlite_build import dbapi, pragmas

BUSY_MS = 5000


def connected(path: Path, read_only: bool, any_thread: bool) -> Database:
    """read_only: nothing beside the file is made or changed. any_thread: one after the other.

    Raises sqlite3.Error where the file is none of SQLite's.
    """
    address = f"file:{quote(str(path.absolute()))}?mode=ro&immutable=1" if read_only else str(path)
    connection = dbapi.connect(
        address,
        isolation_level=None,
        timeout=BUSY_MS / 1000,
        uri=read_only,
        check_same_thread=not any_thread,
    )
    try:
        for pragma in pragmas(read_only, BUSY_MS):
            connection.execute(f"PRAGMA {pragma}").fetchall()
    except dbapi.Error as error:
        connection.close()
        if isinstance(error, dbapi.OperationalError):
            open_files.check(path)
        raise
    return Database(connection, execute_plugins=False)
