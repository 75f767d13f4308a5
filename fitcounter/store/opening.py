"""Opens a shop's file, made or brought up to today's tables first."""

from __future__ import annotations

import os
import secrets
from contextlib import suppress
from functools import partial
from itertools import pairwise
from pathlib import Path

from sqlite_utils import Database

from fitcounter import how_far
from fitcounter.errors import Unavailable, message
from fitcounter.store import audit_key, integrity, restoring
from fitcounter.store.database import APPLICATION_ID, Store, dbapi
from fitcounter.store.migrations import migrations

UP_TO_DATE = message("Bringing the shop’s file up to date")


def open_store(path: Path) -> Store:
    """Opens the shop's file, made or brought up to date where needed.

    Refuses a foreign file, one from a newer program, and a wreck.
    """
    restoring.finish(path.parent)
    with suppress(OSError):  # no such folder, a full disk: opening says it
        _begin_file(path)
    store = _opened(path)
    held = store.value("PRAGMA application_id")
    tables = store.value("SELECT count(*) FROM sqlite_master WHERE type = 'table'")
    if tables and held != APPLICATION_ID:
        store.close()
        raise Unavailable(
            message(
                "{name} is not a file of this program. Name another with --data, or move it away.",
                name=path.name,
            )
        )
    if tables:
        _refuse_newer(store)
    with suppress(OSError):  # a disk without modes
        if path.stat().st_mode & 0o077:
            path.chmod(0o600)  # an older file: nobody else on the machine reads it
    if tables:
        _bring_up_to_date(store)
    migrations.apply(store.db)
    if audit_key.of_folder(path.parent) is None:
        audit_key.write(path.parent, integrity.new_key(store), replace=False)
    return store


def _refuse_newer(store: Store) -> None:
    """Raises Unavailable, and closes it, where a newer program wrote it."""
    bare = Database(memory=True, execute_plugins=False)
    known = {one.name for one in migrations.pending(bare)}
    written = {
        str(row["name"])
        for row in store.rows(
            "SELECT name FROM _sqlite_migrations WHERE migration_set = 'fitcounter'"
        )
    }
    if not written <= known:
        store.close()
        raise Unavailable(
            message(
                "This shop's file was written by a newer version of the program. Start that one."
            )
        )


def _bring_up_to_date(store: Store) -> None:
    """One step after the other, each told."""
    steps = [one.name for one in migrations.pending(store.db)]
    for _, after in how_far.Part(UP_TO_DATE, partial(len, steps)).each(pairwise([*steps, ""])):
        migrations.apply(store.db, stop_before=after or None)


def _begin_file(path: Path) -> None:
    """An empty file that nobody else reads, where there is none yet.

    Made under another name: what may be open somewhere in this process is opened by SQLite alone.
    """
    if path.exists():
        return
    draft = path.with_name(f"{path.name}.{secrets.token_hex(4)}.new")
    os.close(os.open(draft, os.O_WRONLY | os.O_CREAT | os.O_EXCL, 0o600))
    try:
        with suppress(FileExistsError):
            os.link(draft, path)
    finally:
        draft.unlink()


def is_behind(path: Path) -> bool:
    """Is there a file of this program that opening would bring up to date? Changes nothing."""
    if not path.is_file():
        return False
    store = _opened(path)
    try:
        return store.value("PRAGMA application_id") == APPLICATION_ID and bool(
            migrations.pending(store.db)
        )
    finally:
        store.close()


def _opened(path: Path) -> Store:
    """Raises Unavailable for a wreck."""
    try:
        return Store(path)
    except dbapi.DatabaseError as error:
        if isinstance(error, dbapi.OperationalError):
            raise
        raise Unavailable(
            message(
                "{name} cannot be read: it is damaged. `fitcounter restore` brings the last"
                " good copy back.",
                name=path.name,
            )
        ) from error
