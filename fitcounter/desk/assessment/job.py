"""A fit as the computation takes it: the `Job` of `fit.assessment`, built from the stored rows of a
pair.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import replace
from typing import NamedTuple

from fitcounter.desk.assessment.boot import boot_of
from fitcounter.desk.assessment.readings import (
    KINDS,
    ExactReading,
    above_heel_seat,
    asked_readings,
    exact_readings,
    leg_readings,
    length_of_um,
    shaft_readings,
    stored_length,
)
from fitcounter.fit.assessment.heel_seat_heights import boot_span_mm
from fitcounter.fit.assessment.job import Ease, Job, LegTerms, Side
from fitcounter.fit.assessment.kept_fraction import Kept, MeasuredRound
from fitcounter.fit.assessment.legs import LAYERS
from fitcounter.fit.handbook import rounds as rounds_book
from fitcounter.fit.handbook.leg import UM_PER_MM
from fitcounter.store import findings, readings, rounds
from fitcounter.store.bench_records import Round, Turn
from fitcounter.store.database import Store, utc_time
from fitcounter.store.records import Finding, Fit, Item

# By the code of a leather: what the shop's own finished boots say that it keeps.
Records = Mapping[str, Kept]
SECONDS_AN_HOUR = 3600


def mm(um: int) -> float:
    """Stored micrometres as millimetres."""
    return um / UM_PER_MM


class PairRows(NamedTuple):
    """The boots of a fit, left first, with what was seen on them and their rounds, by boot, and
    turns, by round.
    """

    boots: Sequence[Item]
    seen: Mapping[int, Sequence[Finding]]
    rounds: Mapping[int, Sequence[Round]]
    turns: Mapping[int, Sequence[Turn]]


def pair_rows(store: Store, boots: Sequence[Item]) -> PairRows:
    """What was seen on the boots of a fit and done to them, with no turns asked where none had a
    round.
    """
    ids = [boot.id for boot in boots]
    seen, turned = findings.of_items(store, ids), rounds.of_items(store, ids)
    of = [one.id for of_boot in turned.values() for one in of_boot]
    return PairRows(boots, seen, turned, rounds.turns_of(store, of) if of else {})


def untouched(boots: Sequence[Item]) -> PairRows:
    """The boots of a fit as if nothing had been seen on them or done to them."""
    return PairRows(boots, {}, {}, {})


def build_job(
    store: Store,
    fit: Fit,
    items: Sequence[Item],
    *,
    records: Records,
    read: Iterable[ExactReading] | None = None,
    pair: PairRows | None = None,
) -> Job:
    """The job of a fit from its rows, unchecked: `limits.checked` says whether it can be answered.

    items: its boots that are here, left first; read: what was read of them, where that is not yet
    what is stored; pair: where it was asked just now or is not to be asked. Raises BadInput for a
    leather that the handbook does not have.
    """
    if read is None:
        stored = readings.brought_in(store, fit.id, [item.id for item in items])
        read = exact_readings(stored, items)
    by_kind: dict[tuple[str, str], list[ExactReading]] = defaultdict(list)
    for reading in read:
        by_kind[reading.side, reading.what].append(reading)
    pair = pair or pair_rows(store, items)
    return Job(
        unit=fit.unit,
        leg=_leg_terms(fit),
        ease=Ease(fit.ease, 0.0) if fit.ease_um is None else Ease(None, mm(fit.ease_um)),
        dial=fit.limits,
        sides=tuple(
            _side(
                item,
                by_kind,
                "boot" if item is items[0] else f"{item.side}.differs",
                tuple(dict.fromkeys(finding.word for finding in pair.seen.get(item.id, ()))),
                _read_rounds(pair.rounds.get(item.id, ()), pair.turns),
            )
            for item in items
        ),
        hold_h=float(fit.hold_h),
        max_rounds=fit.max_rounds,
        tree_max_mm=None,
        records=records,
    )


def measured(store: Store, items: Sequence[Item]) -> list[Item]:
    """The boots of a fit that were read; one that was not stays as it is."""
    read = readings.read_items(store, [item.id for item in items])
    return [item for item in items if item.id in read]


def _leg_terms(fit: Fit) -> LegTerms:
    return LegTerms(
        posture=fit.posture,
        over=fit.over if fit.over in LAYERS else "skin",
        layer_mm=mm(fit.layer_um),
        time=fit.part_of_day,
        marked=bool(fit.marked),
        on_block=bool(fit.on_block),
    )


def _side(
    item: Item,
    by_kind: Mapping[tuple[str, str], Sequence[ExactReading]],
    path: str,
    seen: tuple[str, ...],
    turned: tuple[MeasuredRound, ...],
) -> Side:
    """One boot with its leg. by_kind: what was read, by side and kind. path: of the boot in the
    job, for a refusal.
    """
    name = str(item.side)
    read = {what: by_kind.get((name, what), ()) for what in KINDS}
    leg, foot = leg_readings(read["leg"])
    side = Side(
        name=name,
        target="amount" if item.target == "safe" else item.target,
        leg=leg,
        foot=foot,
        shaft=shaft_readings(read["boot"]),
        gaps=above_heel_seat(asked_readings(read["gap"]), item),
        amounts=above_heel_seat(asked_readings(read["amount"]), item),
        heel=None if item.heel_um is None else length_of_um(item.heel_um),
        findings=seen,
        rounds=turned,
        boot=boot_of(item, path),
    )
    return _ending(side) if item.ends_below and side.shaft else side


def _ending(side: Side) -> Side:
    """The boot ends at its highest reading. Raises BadInput where a height cannot be."""
    return replace(side, boot=replace(side.boot, top_mm=boot_span_mm(side)[1]))


def _read_rounds(
    stored: Sequence[Round], turns: Mapping[int, Sequence[Turn]]
) -> tuple[MeasuredRound, ...]:
    """The rounds with a reading before and a rested one by the same method; without a rested one
    only as the last, running.

    A round that was rested and not read on the tree, or by another method there, grew the boot and
    tells no kept fraction.
    """
    made = []
    for row in stored:
        turn = _opened(row, turns.get(row.id, ()))
        unread = row.rested_um is None or not row.rested_counts
        if (
            row.before_um is None
            or row.rested_method not in ("", row.method)
            or (unread and (row is not stored[-1] or turn is None))
        ):
            continue
        made.append(_read_round(row, turn))
    return tuple(made)


def _opened(row: Round, turns: Sequence[Turn]) -> Turn | None:
    """The last turn that was read on the tree; None where none was, or it opened nothing."""
    last = next((turn for turn in reversed(turns) if turn.girth_um is not None), None)
    return last if last is not None and (last.girth_um or 0) > (row.before_um or 0) else None


def _read_round(row: Round, turn: Turn | None) -> MeasuredRound:
    before = stored_length(row.before_text, row.before_unit, row.before_um or 0)
    on_tree = turn and stored_length(turn.girth_text, turn.unit, turn.girth_um or 0)
    rested = (
        stored_length(row.rested_text, row.rested_unit, row.rested_um)
        if row.rested_um is not None and row.rested_counts
        else None
    )
    return MeasuredRound(
        before_mm=before.float_mm,
        on_tree_mm=on_tree.float_mm if on_tree else None,
        rested_mm=rested.float_mm if rested else None,
        method=row.method,
        hold_h=_held_h(row, turn),
        dry=row.prepared == "dry",
        rested_count=row.rested_count if rested else 1,
    )


def _held_h(row: Round, turn: Turn | None) -> float:
    """Hours from the last turn that was read to the taking off; a running round counts to the hour
    it is due.
    """
    begun, end = row.on_at if turn is None else turn.at, row.off_at or row.due_off_at
    if begun is None or end is None:
        return rounds_book.HOLD_H
    hours = (utc_time(end) - utc_time(begun)).total_seconds() / SECONDS_AN_HOUR
    return min(max(1.0, hours), rounds_book.LONGEST_HOLD_H)
