"""What the shop has learnt: the fraction of an opening that each leather keeps, from the shop's own
finished boots.
"""

from __future__ import annotations

from itertools import groupby

from fitcounter.desk.assessment import limits
from fitcounter.desk.assessment.job import Records
from fitcounter.fit.assessment.kept import Kept, Round, boot_record, class_kept
from fitcounter.fit.assessment.materials import Own
from fitcounter.fit.handbook import leather as handbook_leather
from fitcounter.store import outcomes
from fitcounter.store.database import Store, utc_time


def records(store: Store) -> Records:
    """What the shop's finished boots say of each leather that any of them was of, by its code."""
    finishes = outcomes.finishes_stamp(store)
    return _records_at(store, str(store.path), finishes, limits.of_shop(store))


_KEPT: dict[tuple[str, str, Own], Records] = {}
MOST_KEPT = 4


def _records_at(store: Store, path: str, finishes: str, own: Own) -> Records:
    """Reckoned once for each finished boot, because every page of a boot asks for it; by several
    threads at once, perhaps.
    """
    key = (path, finishes, own)
    records = _KEPT.get(key)
    if records is None:
        records = {code: kept for code, (kept, _) in classes(store, own).items()}
        for oldest in tuple(_KEPT)[: max(0, len(_KEPT) + 1 - MOST_KEPT)]:
            _KEPT.pop(oldest, None)
        _KEPT[key] = records
    return records


def classes(store: Store, own: Own) -> dict[str, tuple[Kept, list[list[Round]]]]:
    """By leather: what it keeps by the shop's own finished boots, and the rounds of each."""
    boots: dict[str, list[list[Round]]] = {}
    for _, group in groupby(outcomes.finished_rounds(store), key=lambda row: row.item_id):
        rows = list(group)
        rounds = [made for row in rows if (made := _round(row)) is not None]
        boots.setdefault(rows[0].material, []).append(rounds)
    learnt: dict[str, tuple[Kept, list[list[Round]]]] = {}
    for code, finished in boots.items():
        table = table_kept(own, code)
        records = [record for rounds in finished if (record := boot_record(rounds)) is not None]
        if records and table > 0:
            learnt[code] = (class_kept(table, [[record] for record in records]), finished)
    return learnt


def _round(row: outcomes.ReadRound) -> Round | None:
    """A stored round as the computation takes it; None where it was never read before it went
    on.
    """
    if row.before_um is None:
        return None
    one_method = row.rested_method in ("", row.method)
    opened = (
        row.on_tree_um
        if one_method and row.on_tree_um is not None and row.on_tree_um > row.before_um
        else None
    )
    rested = row.rested_um if one_method and row.rested_counts else None
    hold_h = max((utc_time(row.off_at) - utc_time(row.held_from)).total_seconds() / 3600, 1.0)
    return Round(
        row.before_um / 1000,
        None if opened is None else opened / 1000,
        None if rested is None else rested / 1000,
        row.method,
        hold_h,
        row.prepared == "dry",
    )


def table_kept(own: Own, code: str) -> float:
    """The fraction that the table of leathers says a leather keeps; 0 where it does not have it."""
    row = handbook_leather.LEATHERS.get(code)
    return own.row(row).kept_mean if row else 0.0
