"""The SQLite library in use, and the journal that is safe with it.

SQLite before 3.51.3 (but 3.44.6 and 3.50.7) can lose commits in WAL mode when two connections reset
the log at once; WAL is used on a fixed build only, otherwise the rollback journal with synchronous
EXTRA.
"""

from __future__ import annotations

try:  # the fixed build, where its wheel exists; sqlite-utils takes it by itself
    import pysqlite3.dbapi2 as dbapi
except ImportError:
    import sqlite3 as dbapi

__all__ = ["dbapi", "journal", "pragmas", "wal_is_safe"]


def wal_is_safe(version: tuple[int, ...]) -> bool:
    """Is the WAL-reset bug fixed in this SQLite? (sqlite.org, release notes of 3.51.3, 3.50.7 and
    3.44.6.)
    """
    return (
        version >= (3, 51, 3)
        or (version[:2] == (3, 50) and version >= (3, 50, 7))
        or (version[:2] == (3, 44) and version >= (3, 44, 6))
    )


def journal() -> tuple[str, str]:
    """Journal mode and synchronous setting for the SQLite build in use."""
    return ("wal", "full") if wal_is_safe(dbapi.sqlite_version_info) else ("delete", "extra")


def pragmas(read_only: bool, busy_ms: int) -> list[str]:
    """What every connection is told when it opens, as `name=value`. busy_ms: how long it waits
    for a lock.
    """
    settings = [
        "foreign_keys=ON",
        f"busy_timeout={busy_ms}",
        "secure_delete=ON",
        "trusted_schema=OFF",
        "mmap_size=0",
    ]
    if not read_only:
        mode, synchronous = journal()
        settings += ["wal_autocheckpoint=0", f"synchronous={synchronous}", f"journal_mode={mode}"]
    return settings
