"""How a request comes to the shop's file: by a connection of its own, or by one that waits open
between requests.
"""

from __future__ import annotations

from collections import deque
from contextlib import suppress
from pathlib import Path

from fitcounter.store.database import Store


class EachOpens:
    """Every request opens the file and closes it: for an application that lives for a moment."""

    def __init__(self, path: Path) -> None:
        self.path = path

    def enter(self) -> Store:
        return Store(self.path)

    def leave(self, store: Store) -> None:
        store.close()


class KeptOpen(EachOpens):
    """Connections stay open from request to request, with all that SQLite learnt of the file; one
    request has one at a time.

    Opening the file and reading its tables anew took a tenth of the time of a save. The one that
    left last is taken first: while requests come one by one it is always the same, and finds its
    own pages as it left them.
    """

    def __init__(self, path: Path) -> None:
        super().__init__(path)
        self.free: deque[Store] = deque()  # its pop and append are whole, whatever thread asks

    def enter(self) -> Store:
        with suppress(IndexError):
            return self.free.pop()
        return Store(self.path, any_thread=True)

    def leave(self, store: Store) -> None:
        """A connection that a request left in the middle of something is not used again."""
        if store.db.conn.in_transaction:
            store.close()
        else:
            store.bring_in_long_log()
            self.free.append(store)
