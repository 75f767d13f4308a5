"""A part of a write that may fail alone."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager

from fitcounter.errors import Conflict
from fitcounter.store.database import Store
from fitcounter.store.refusals import integrity_sentence, operational
from fitcounter.store.sqlite_build import dbapi


@contextmanager
def savepoint(store: Store) -> Iterator[None]:
    """Undoes what its block wrote where the block raises; the write around it may go on.

    Inside a write only. A broken rule of the file becomes Conflict; a full disk and the like
    become Unavailable, after which the whole write must be given up.
    """
    store.db.execute("SAVEPOINT part")
    try:
        yield
    except dbapi.OperationalError as error:
        raise operational(error) from error
    except BaseException as error:
        store.db.execute("ROLLBACK TO part")
        store.db.execute("RELEASE part")
        if isinstance(error, dbapi.IntegrityError):
            raise Conflict(integrity_sentence(str(error))) from error
        raise
    store.db.execute("RELEASE part")
