"""Pages of a shop's file that a disk has lost."""

from __future__ import annotations

import random
from pathlib import Path

from fitcounter.store.database import Store

ROOTS = ("tickets", "items", "customers", "tags", "settings", "plan_stamp")


def damage_pages(path: Path, seed: int = 0, many: int = 6) -> None:
    """Overwrites pages with chance bytes, the first one left alone; nobody has the file open.

    seed: 0 for the first pages of six tables that most of the program reads.
    """
    store = Store(path)
    store.db.execute("PRAGMA wal_checkpoint(TRUNCATE)")
    size = int(store.value("PRAGMA page_size"))
    count = int(store.value("PRAGMA page_count"))
    roots = [
        int(row["rootpage"])
        for row in store.rows("SELECT name, rootpage FROM sqlite_master WHERE type = 'table'")
        if row["name"] in ROOTS
    ]
    store.close()
    chance = random.Random(seed)
    pages = chance.sample(range(2, count + 1), many) if seed else roots[:many]
    with path.open("r+b") as file:
        for page in pages:
            file.seek((page - 1) * size)
            file.write(chance.randbytes(size))
