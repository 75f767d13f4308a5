"""How a request comes to the shop's file: by a connection of its own, or by one that its thread keeps open."""

from __future__ import annotations

import threading
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
    """A server's thread opens the file once and keeps it from request to request, with all that SQLite learnt of it meanwhile.

    Opening the file and reading its tables anew took a tenth of the time of a save. A connection never leaves its thread.
    """

    def __init__(self, path: Path) -> None:
        super().__init__(path)
        self.own = threading.local()

    def enter(self) -> Store:
        held: Store | None = getattr(self.own, "store", None)
        if held is None:
            held = self.own.store = Store(self.path)
        return held

    def leave(self, store: Store) -> None:
        """A connection that a request left in the middle of something is not used again."""
        if store.db.conn.in_transaction:
            self.own.store = None
            store.close()
        else:
            store.bring_in_long_log()
