"""The tables as they are first made. Lengths are INTEGER micrometres beside the text that was
typed, money INTEGER minor units, instants UTC text (2026-11-25T09:30:00Z), days local ISO dates.
Later changes are migrations, never edits here.
"""

from __future__ import annotations

from fitcounter.store.schema.aftercare import AFTERCARE
from fitcounter.store.schema.bench import BENCH
from fitcounter.store.schema.items import ITEMS
from fitcounter.store.schema.not_right import NOT_RIGHT
from fitcounter.store.schema.one_boot import FEELINGS, ONE_BOOT, WEAR_UNDO
from fitcounter.store.schema.people import PEOPLE
from fitcounter.store.schema.promises import PROMISES
from fitcounter.store.schema.tickets import TICKETS

__all__ = ["FEELINGS", "FIRST", "NOT_RIGHT", "ONE_BOOT", "PROMISES", "WEAR_UNDO", "statements"]

FIRST = PEOPLE + TICKETS + ITEMS + BENCH + AFTERCARE


def statements(script: str) -> list[str]:
    """Splits a script where a statement is complete, so that a trigger's inner semicolons do not
    cut it.
    """
    found: list[str] = []
    part = ""
    for line in script.strip().splitlines():
        part += line + "\n"
        ends = part.rstrip().endswith(";")
        if ends and ("CREATE TRIGGER" not in part or part.rstrip().endswith("END;")):
            found.append(part.strip())
            part = ""
    return found
