"""The girth of a boot before a round: read anew, or what its last rested reading says.

Read anew it teaches the tape's own error, so no form is filled in with it; where nobody read it,
the last rested reading by the same method at the same mark stands for it.
"""

from __future__ import annotations

from fitcounter.desk.assessment.readings import length_of_um
from fitcounter.fit.tape import Length
from fitcounter.store import readings, rounds
from fitcounter.store.bench_records import Round
from fitcounter.store.database import Store


def last_rested(store: Store, item_id: int, method: str, mark_um: int | None) -> Length | None:
    """The last counted rested reading by this method at this mark; None where there is none, or
    the boot was measured again since it came back.
    """
    row = next((one for one in reversed(rounds.of_item(store, item_id)) if _counts(one)), None)
    if row is None or row.rested_um is None or _method(row) != method:
        return None
    if None not in (mark_um, row.mark_um) and mark_um != row.mark_um:
        return None
    back = [read.read_at for read in readings.boots(store, item_id, "comeback")]
    if back and max(back) > (row.rested_at or ""):
        return None
    return length_of_um(row.rested_um)


def _counts(row: Round) -> bool:
    return row.rested_um is not None and bool(row.rested_counts)


def _method(row: Round) -> str:
    return row.rested_method or row.method
