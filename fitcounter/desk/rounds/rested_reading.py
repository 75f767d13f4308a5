"""The rested reading of a round: what the boot measures once it is off its tree."""

from __future__ import annotations

import json
from datetime import datetime
from typing import Any, NamedTuple

from fitcounter.desk.assessment.readings import stored_length
from fitcounter.desk.common.state_changes import StepInput, skipped, write_step
from fitcounter.desk.common.translation import say
from fitcounter.desk.rounds import checks_before_a_round
from fitcounter.desk.rounds.round_rows import off_the_tree, round_to_read, typed_length
from fitcounter.desk.shop import Shop
from fitcounter.errors import BadReading
from fitcounter.fit.assessment.one_round import counts_from
from fitcounter.fit.handbook.leg import UM_PER_MM
from fitcounter.fit.repeats import settle
from fitcounter.fit.tape import Length
from fitcounter.store import items, rounds
from fitcounter.store.bench_records import Round
from fitcounter.store.database import Act, Store, Written, utc_text, utc_time
from fitcounter.store.records import Item
from fitcounter.store.undos import Writes


class RestedRead(NamedTuple):
    """One reading of a rested boot, as it is stored."""

    um: int
    text: str
    unit: str


class RestedReading(NamedTuple):
    """What was typed. rested: the girth, as typed. method: empty for the one of the round.

    instead: the reading that is there was wrong; else a further one by its method counts beside it.
    off_at: when the boot came off, where that was never saved (with catch_up). tape_right: a boot
    that is smaller than before it went on, or wider than on the tree, was read twice.
    """

    rested: str
    method: str = ""
    off_at: datetime | None = None
    tape_right: bool = False
    instead: bool = False


def measure_again(
    store: Store,
    act: Act,
    shop: Shop,
    item_id: int,
    step_input: StepInput,
    typed: RestedReading,
) -> Written:
    """Saves the rested reading. Before 24 h off the tree it is kept and marked, does not count, and
    the boot goes on resting.

    Raises BadReading, at tape_right (a question) while the boot reads smaller than before or wider
    than on the tree.
    """
    girth = typed_length(typed.rested, shop.unit, "rested")
    if girth is None:
        raise BadReading(
            say("Type what the tape reads at the mark, after resting."), field="rested"
        )

    def write() -> Written:
        item = items.get(store, item_id)
        writes = Writes(store, item, step_input.columns)
        given = step_input
        if item.state == "on-tree" and step_input.catch_up and typed.off_at is not None:
            _catch_up_taking_off(store, act, writes, typed.off_at, step_input.version)
            item = items.get(store, item_id)
            given = StepInput(step_input.happened_at, step_input.catch_up)
        round_row = round_to_read(writes, item)
        _check(store, round_row, girth, typed, given.happened_at)
        early = _is_early(item, round_row, given.happened_at)
        step = "early-reading" if early else "measure-again"
        missed = skipped(item, step, given.catch_up)
        method = typed.method or round_row.method
        reads = (
            [] if early or typed.instead or item.state != "to-decide" else _reads(round_row, method)
        )
        columns = _columns(girth, method, given.happened_at, not early)
        if reads:
            columns |= _settled([*reads, RestedRead(girth.um, girth.text, girth.unit)])
        writes.change("rounds", round_row.id, **columns)
        writes.keep(step)
        detail = {"round": round_row.n, "rested_um": girth.um, "counts": not early}
        with_detail = StepInput(given.happened_at, given.catch_up, given.version, detail)
        return write_step(store, act, item, step, with_detail, missed)

    return store.once(act, "measure-again", write)


def _catch_up_taking_off(
    store: Store, act: Act, writes: Writes, off_at: datetime, version: int | None
) -> None:
    """The taking off that was never saved, in the same write and the same way back."""
    detail = off_the_tree(store, writes, writes.item, off_at, "")
    step_input = StepInput(off_at, version=version, detail=detail)
    write_step(store, act, writes.item, "take-off", step_input)


def _check(
    store: Store, round_row: Round, girth: Length, typed: RestedReading, at: datetime
) -> None:
    checks_before_a_round.follows(
        at, round_row.off_at, say("The boot came off the tree after that time. Type a later time.")
    )
    if typed.tape_right:
        return
    method = typed.method or round_row.method
    checks_before_a_round.not_smaller(round_row, girth, method)
    checks_before_a_round.not_wider(round_row, rounds.turns(store, round_row.id), girth, method)


def _is_early(item: Item, round_row: Round, at: datetime) -> bool:
    return (
        item.state == "resting"
        and round_row.off_at is not None
        and at < counts_from(utc_time(round_row.off_at))
    )


def _columns(girth: Length, method: str, at: datetime, counts: bool) -> dict[str, Any]:
    return {
        "rested_um": girth.um,
        "rested_text": girth.text,
        "rested_unit": girth.unit,
        "rested_method": method,
        "rested_at": utc_text(at),
        "rested_counts": int(counts),
        "rested_reads": "",
    }


def _reads(round_row: Round, method: str) -> list[RestedRead]:
    """The readings of the rested boot by this method that count already."""
    if round_row.rested_um is None or not round_row.rested_counts:
        return []
    if (round_row.rested_method or round_row.method) != method:
        return []
    if round_row.rested_reads:
        return [RestedRead(*read) for read in json.loads(round_row.rested_reads)]
    return [RestedRead(round_row.rested_um, round_row.rested_text, round_row.rested_unit)]


def _settled(reads: list[RestedRead]) -> dict[str, Any]:
    """Several readings of the rested boot, the newest last: what they settle to, and each."""
    lengths = [stored_length(read.text, read.unit, read.um) for read in reads]
    unit = reads[-1].unit
    texts = [
        read.text if read.unit == unit else length.text
        for read, length in zip(reads, lengths, strict=True)
    ]
    return {
        "rested_um": round(settle([length.mm for length in lengths]) * UM_PER_MM),
        "rested_text": ", ".join(texts),
        "rested_reads": json.dumps(reads),
    }
