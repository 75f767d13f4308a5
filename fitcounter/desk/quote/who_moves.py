"""Who moves for boots that are asked about, or would have to so that they are ready sooner: which
ticket, to which tree, from which day, and that its own promise holds.
"""

from __future__ import annotations

from datetime import date
from typing import NamedTuple

from fitcounter.desk.common.translation import say, spoken
from fitcounter.fit.plan import made_late
from fitcounter.fit.plan.jobs import BootPlan, Hold, Plan
from fitcounter.store import bench_board
from fitcounter.store.database import Store

MOST_MOVED = 3  # boots; a proposal that turns the whole bench round helps nobody


class Moving(NamedTuple):
    """day: on which the boots that are asked about would be ready. sentences: who moves, a boot
    each.
    """

    day: date
    sentences: tuple[str, ...]
    plan: Plan


def who_moves(store: Store, before: Plan, ahead: Plan, asked: str, day: date) -> Moving | None:
    """The proposal; None where it saves no day, breaks a promise, or moves too many.

    before: the bench without the pair that is asked about; ahead: with it, planned to be in time;
    day: on which it is ready where nobody moves.
    """
    pair = ahead.pair(asked)
    if pair is None or pair.ready >= day or _breaks(before, ahead, asked):
        return None
    sentences = moves(store, before, ahead)
    if not 0 < len(sentences) <= MOST_MOVED or "" in sentences:
        return None
    return Moving(pair.ready, sentences, ahead)


def moves(store: Store, before: Plan, ahead: Plan) -> tuple[str, ...]:
    """A sentence for each boot whose booking is another in the plan ahead; of one that is late by
    it as well.
    """
    moved = [(boot, hold) for boot in before.boots if (hold := _moves_to(boot, ahead))]
    return tuple(_sentence(store, ahead, boot, hold) for boot, hold in moved)


def _breaks(before: Plan, ahead: Plan, asked: str) -> bool:
    """Whether a promise is broken, or broken by more days than before."""
    if made_late.late_in(before, ahead, asked):
        return True
    late = {entry.pair: entry.late_days for entry in before.pairs}
    return any(entry.late_days > late.get(entry.pair, entry.late_days) for entry in ahead.pairs)


def _moves_to(boot: BootPlan, ahead: Plan) -> Hold | None:
    """The first hold of a boot that is on another tree or day."""
    now = ahead.boot(boot.job)
    if now is None:
        return None
    for was, becomes in zip(boot.holds, now.holds, strict=False):
        if (was.tree, was.on) != (becomes.tree, becomes.on):
            return becomes
    return None


def _sentence(store: Store, ahead: Plan, boot: BootPlan, hold: Hold) -> str:
    """Which boot goes to which tree on which day, and that its promise holds; "" where it is on no
    ticket.
    """
    row, pair, words = bench_board.one(store, int(boot.job)), ahead.pair(boot.pair), spoken()
    if row is None or pair is None:
        return ""
    values = {
        "number": row.number,
        "customer": row.customer,
        "boot": say("left boot") if row.side == "left" else say("right boot"),
        "tree": hold.tree,
        "day": words.day(hold.on),
    }
    if pair.late_days:
        return say(
            "{number} {customer}, {boot}: to tree {tree} on {day}. Late for {promised}.",
            promised=words.day(pair.promised or pair.ready),
            **values,
        )
    if pair.promised is None:
        return say(
            "{number} {customer}, {boot}: to tree {tree} on {day}. Ready {ready}, not promised.",
            ready=words.day(pair.ready),
            **values,
        )
    return say(
        "{number} {customer}, {boot}: to tree {tree} on {day}. Promised {promised} still holds.",
        promised=words.day(pair.promised),
        **values,
    )
