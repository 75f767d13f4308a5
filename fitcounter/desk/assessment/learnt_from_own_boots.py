"""What the shop has learnt: the fraction of an opening that each leather keeps, from every boot of
its own that was read after a round and a rest.
"""

from __future__ import annotations

import json
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from itertools import groupby

from fitcounter.desk.assessment import limits
from fitcounter.desk.assessment.job import Records
from fitcounter.fit.assessment.kept_fraction import (
    BootRecord,
    Kept,
    MeasuredRound,
    boot_record,
    class_kept,
)
from fitcounter.fit.assessment.materials import Own
from fitcounter.fit.handbook import leather as handbook_leather
from fitcounter.store import outcomes
from fitcounter.store.database import Store, utc_time


@dataclass(frozen=True, slots=True)
class Learnt:
    """What the shop's boots of one leather say. kept: of a further boot; pairs: what each boot
    says, by the fit that its pair came in with; rounds: of each boot.
    """

    kept: Kept
    pairs: Mapping[int, tuple[BootRecord, ...]]
    rounds: tuple[tuple[MeasuredRound, ...], ...]
    table: float

    def without(self, fit_id: int) -> Kept | None:
        """The same without the boots of one fit, which are its own evidence; None where no boot is
        left.
        """
        if fit_id not in self.pairs:
            return self.kept
        left = [pair for other, pair in self.pairs.items() if other != fit_id]
        return class_kept(self.table, left) if left else None


def learnt(store: Store, own: Own | None = None) -> Mapping[str, Learnt]:
    """By leather. Whether it still stands is asked of the newest rounds each time: who goes through
    many boots at once asks once. own: the shop's limits, where they were asked just now.
    """
    by, stamp = own or limits.of_shop(store), outcomes.rounds_stamp(store)
    return _learnt_at(store, str(store.path), stamp, by)


def records(
    store: Store, fit_id: int | None = None, known: Mapping[str, Learnt] | None = None
) -> Records:
    """What the shop's boots say of each leather that any of them was of, by its code; without those
    of the fit that is asked about. known: what `learnt` said just now.
    """
    told = learnt(store) if known is None else known
    if fit_id is None:
        return {code: one.kept for code, one in told.items()}
    apart = {code: one.without(fit_id) for code, one in told.items()}
    return {code: kept for code, kept in apart.items() if kept is not None}


_LEARNT: dict[tuple[str, str, Own], dict[str, Learnt]] = {}
MOST_KEPT = 4


def _learnt_at(store: Store, path: str, stamp: str, own: Own) -> dict[str, Learnt]:
    """Reckoned once for each rested reading, because every page of a boot asks for it; by several
    threads at once, perhaps.
    """
    key = (path, stamp, own)
    found = _LEARNT.get(key)
    if found is None:
        found = classes(store, own)
        for oldest in tuple(_LEARNT)[: max(0, len(_LEARNT) + 1 - MOST_KEPT)]:
            _LEARNT.pop(oldest, None)
        _LEARNT[key] = found
    return found


def classes(store: Store, own: Own) -> dict[str, Learnt]:
    """By leather: what every boot with a counted rested reading says, stopped and declined ones
    too, the boots of a pair together.
    """
    boots: dict[str, list[tuple[int, tuple[MeasuredRound, ...]]]] = {}
    for item_id, group in groupby(outcomes.learnt_rounds(store), key=lambda row: row.item_id):
        rows = list(group)
        rounds = tuple(made for row in rows if (made := _round(row)) is not None)
        boots.setdefault(rows[0].material, []).append((rows[0].fit_id or -item_id, rounds))
    every = ((code, _learnt(table_kept(own, code), of_code)) for code, of_code in boots.items())
    return {code: told for code, told in every if told is not None}


def _learnt(table: float, boots: Sequence[tuple[int, tuple[MeasuredRound, ...]]]) -> Learnt | None:
    """boots: by fit, or by the boot's own number, negative, where it has none."""
    pairs: dict[int, tuple[BootRecord, ...]] = {}
    for fit_id, rounds in boots:
        record = boot_record(rounds)
        if record is not None:
            pairs[fit_id] = (*pairs.get(fit_id, ()), record)
    if not pairs or table <= 0:
        return None
    kept = class_kept(table, list(pairs.values()))
    return Learnt(kept, pairs, tuple(rounds for _, rounds in boots), table)


def _round(row: outcomes.ReadRound) -> MeasuredRound | None:
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
    return MeasuredRound(
        row.before_um / 1000,
        None if opened is None else opened / 1000,
        None if rested is None else rested / 1000,
        row.method,
        hold_h,
        row.prepared == "dry",
        rested_count=len(json.loads(row.rested_reads)) if row.rested_reads else 1,
    )


def table_kept(own: Own, code: str) -> float:
    """The fraction that the table of leathers says a leather keeps; 0 where it does not have it."""
    row = handbook_leather.LEATHERS.get(code)
    return own.row(row).kept_mean if row else 0.0
