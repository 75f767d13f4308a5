"""The rested reading of a round: what the boot measures once it is off its tree."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime
from typing import Any

from fitcounter.desk.bench import round_checks
from fitcounter.desk.bench.round_rows import off_the_tree, round_to_read, typed_length
from fitcounter.desk.common.item_steps import StepInput, skipped, write_step
from fitcounter.desk.common.translation import say
from fitcounter.desk.shop import Shop
from fitcounter.errors import BadReading
from fitcounter.fit.assessment.one_round import counts_from
from fitcounter.fit.tape import Length
from fitcounter.store import items, rounds
from fitcounter.store.bench_records import Round
from fitcounter.store.database import Act, Store, Written, utc_text, utc_time
from fitcounter.store.records import Item
from fitcounter.store.undos import Writes


@dataclass(frozen=True, slots=True)
class RestedReading:
    """What was typed. rested: the girth, as typed. method: empty for the one of the round.

    off_at: when the boot came off, where that was never saved (with catch_up). tape_right: a boot
    that is smaller than before it went on, or wider than on the tree, was read twice.
    """

    rested: str
    method: str = ""
    off_at: datetime | None = None
    tape_right: bool = False


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
        columns = _columns(girth, typed.method or round_row.method, given.happened_at, not early)
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
    round_checks.follows(
        at, round_row.off_at, say("The boot came off the tree after that time. Type a later time.")
    )
    if typed.tape_right:
        return
    method = typed.method or round_row.method
    round_checks.not_smaller(round_row, girth, method)
    round_checks.not_wider(round_row, rounds.turns(store, round_row.id), girth, method)


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
    }
