"""What keeping an old shop's file costs, for the table of `growth.py`."""

from __future__ import annotations

import subprocess
import sys
import time
from collections.abc import Callable
from pathlib import Path

from filled_shop import NOW

from fitcounter.desk.data import copy_and_bring_back
from fitcounter.store.database import Store

MIGRATION = (
    "ALTER TABLE items ADD COLUMN tried INTEGER",
    "CREATE INDEX steps_tried ON steps (step, saved_at)",
)
EXPORT = """
import sys
from fitcounter.cli.main import main
main(sys.argv[1:])
print(next(line for line in open("/proc/self/status") if line.startswith("VmHWM")))
"""
KIB_A_MB = 1024


def costs(folder: Path, where: Path) -> dict[str, float]:
    """Seconds by the clock of a checked copy, of reading a copy to its end, of the way back from it
    (checked before and after), and of a migration that gives the boots a column and their steps an
    index; before a migration a shop is copied, which is not counted again. Seconds and memory of
    the export as JSON, which is a process of its own.

    where: a folder for what is made.
    """
    copies, new = where / "copies", where / "new"
    figures = {
        "checked copy, s": seconds(lambda: copy_and_bring_back.make_copy(folder, copies, NOW))
    }
    copy = copy_and_bring_back.newest(folder, copies)
    figures["copy read to its end, s"] = seconds(lambda: copy_and_bring_back.proof(copy))
    figures["way back, s"] = seconds(lambda: copy_and_bring_back.bring_back(copy, new, NOW))
    figures["migration, s"] = seconds(lambda: migrate(new / "shop.db"))
    begun = time.perf_counter()
    figures["export, MB of memory"] = memory_of_export(folder, where / "shop.json")
    figures["export, s"] = time.perf_counter() - begun
    return figures


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


def memory_of_export(folder: Path, file: Path) -> float:
    """The most that `fitcounter export` holds, MB; of the program alone, not of what started it."""
    line = [sys.executable, "-c", EXPORT, "export", str(file), "--data", str(folder)]
    program = subprocess.run(line, check=True, capture_output=True, text=True)
    return int(program.stdout.split()[-2]) / KIB_A_MB
