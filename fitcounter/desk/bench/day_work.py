"""What is to be done at the bench today, in the order of work: a pair is one line, with its trees
and the hour.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from datetime import date, datetime
from typing import NamedTuple

from fitcounter.desk.bench.board import Board
from fitcounter.desk.common.translation import marked, say, spoken
from fitcounter.desk.shop import Shop
from fitcounter.fit.plan.jobs import BootPlan, PlanStep
from fitcounter.store.bench_board import BoardRow

# What is free to begin comes in this order; what has an hour comes at its hour.
WORK = {
    "off": marked("Take off: {boots}"),
    "read": marked("Measure: {boots}"),
    "on": marked("Put on: {boots}"),
    "prepare": marked("Prepare: {boots}"),
    "finish": marked("Finish: {boots}"),
}


class DayTask(NamedTuple):
    """One thing to do with one boot, or with both of a pair. rows: of its boots, left first.

    at: from when, in the shop's hours; None where it may be done at once.
    """

    kind: str
    rows: tuple[BoardRow, ...]
    trees: tuple[str, ...]
    at: datetime | None

    @property
    def words(self) -> str:
        """What to do, with the tree of each boot, in the language spoken just now."""
        boots = [
            _boot(self.kind, row, tree) for row, tree in zip(self.rows, self.trees, strict=True)
        ]
        return say(WORK[self.kind], boots=spoken().listed(boots))


def day_work(
    shop: Shop, boots: Sequence[BootPlan], rows: Mapping[int, BoardRow], seen: Board, today: date
) -> list[DayTask]:
    """The planned steps of today. boots: as planned; rows: by item; seen: when boots come off and
    may be measured.
    """
    hours = {one.row.id: shop.local(one.at) for one in (*seen.off, *seen.read) if one.at}
    steps = [
        (rows[int(boot.job)], step)
        for boot in boots
        if int(boot.job) in rows
        for step in boot.steps
        if step.day == today and step.kind in WORK
    ]
    freed = {step.tree: hours.get(row.id) for row, step in steps if step.kind == "off"}
    lines = [_line(group, hours, freed) for group in _together(steps)]
    order = list(WORK)
    return sorted(lines, key=lambda line: (_minutes(line.at, today), order.index(line.kind)))


def _together(
    steps: Iterable[tuple[BoardRow, PlanStep]],
) -> Iterable[list[tuple[BoardRow, PlanStep]]]:
    """The same step of both boots of a pair as one."""
    groups: dict[tuple[str, str], list[tuple[BoardRow, PlanStep]]] = {}
    for row, step in sorted(steps, key=lambda one: (one[0].number, one[0].side or "")):
        pair = f"fit{row.fit_id}" if row.fit_id else f"item{row.id}"
        groups.setdefault((pair, step.kind), []).append((row, step))
    return groups.values()


def _line(
    group: Sequence[tuple[BoardRow, PlanStep]],
    hours: Mapping[int, datetime],
    freed: Mapping[str | None, datetime | None],
) -> DayTask:
    """What goes on a tree waits for its own reading and for the boot that is on the tree."""
    kind = group[0][1].kind
    known: list[datetime | None] = []
    for row, step in group:
        if kind in ("off", "read", "on"):
            known.append(hours.get(row.id))
        if kind == "on":
            known.append(freed.get(step.tree))
    at = max((one for one in known if one is not None), default=None)
    trees = tuple(step.tree or "" for _, step in group)
    return DayTask(kind, tuple(row for row, _ in group), trees, at)


def _minutes(at: datetime | None, today: date) -> int:
    """After midnight; 0 for what may be done at once or was due before today."""
    return 60 * at.hour + at.minute if at is not None and at.date() == today else 0


def _boot(kind: str, row: BoardRow, tree: str) -> str:
    left = row.side == "left"
    if kind == "off" and tree:
        words = marked("Left from tree {tree}") if left else marked("Right from tree {tree}")
    elif kind == "on" and tree:
        words = marked("Left on tree {tree}") if left else marked("Right on tree {tree}")
    else:
        words = marked("Left") if left else marked("Right")
    return say(words, tree=tree)
