"""What keeping an old shop's file costs: `python tests/bench/grown_file.py [tickets ...]`, by
itself 100, 10,000 and 100,000.

The shops of `growth.py`. Prints a table: megabytes of the file, and seconds by the clock that a
checked copy takes, reading a copy to its end, the way back from it (checked before and after), and
a migration that gives the boots a column and their steps an index. Before a migration a shop is
copied, which is not counted again. A million tickets take the generator some minutes.
"""

from __future__ import annotations

import sys
import tempfile
import time
from collections.abc import Callable
from pathlib import Path

import checkout_path  # noqa: F401 - finds the next
from growth import grown, print_table
from shop_speed import NOW

from fitcounter.desk.data import backups
from fitcounter.store.database import Store

MIGRATION = (
    "ALTER TABLE items ADD COLUMN tried INTEGER",
    "CREATE INDEX steps_tried ON steps (step, saved_at)",
)


def seconds(run: Callable[[], object]) -> float:
    begun = time.perf_counter()
    run()
    return time.perf_counter() - begun


def migrate(file: Path) -> None:
    store = Store(file)
    with store.write_tx():
        for statement in MIGRATION:
            store.db.execute(statement)
    store.close()


def column(closed: int) -> dict[str, float]:
    """The figures of one size."""
    with tempfile.TemporaryDirectory() as where:
        folder, copies, new = (Path(where) / name for name in ("shop", "copies", "new"))
        folder.mkdir()
        figures = {"made by the generator, s": seconds(lambda: grown(folder, closed))}
        figures["file, MB"] = (folder / "shop.db").stat().st_size / 1e6
        figures["checked copy, s"] = seconds(lambda: backups.make_copy(folder, copies, NOW))
        copy = backups.newest(folder, copies)
        figures["copy read to its end, s"] = seconds(lambda: backups.proof(copy))
        figures["way back, s"] = seconds(lambda: backups.bring_back(copy, new, NOW))
        figures["migration, s"] = seconds(lambda: migrate(new / "shop.db"))
    return figures


def main() -> int:
    sizes = [int(size) for size in sys.argv[1:]] or [100, 10_000, 100_000]
    columns = [column(size) for size in sizes]
    print_table(sizes, columns)
    return 0


if __name__ == "__main__":
    sys.exit(main())
