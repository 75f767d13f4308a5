"""Left and right of a pair as one row of a list, where nothing tells them apart."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from datetime import datetime, timedelta
from typing import NamedTuple

from fitcounter.desk.bench.board import Entry
from fitcounter.store.bench_board import BoardRow

# Two boots that are due so shortly after each other are due together.
TOGETHER = timedelta(hours=1)


class Together(NamedTuple):
    """What stands in one row of a list: one item, or left and right of a pair. at: the later."""

    entries: tuple[Entry, ...]

    @property
    def row(self) -> BoardRow:
        return self.entries[0].row

    @property
    def at(self) -> datetime | None:
        return max((one.at for one in self.entries if one.at is not None), default=None)

    @property
    def trees(self) -> tuple[str, ...]:
        return tuple(one.tree for one in self.entries if one.tree)


def together(
    found: Sequence[Entry], words: Callable[[BoardRow], str] = lambda row: ""
) -> list[Together]:
    """A list's rows, in its order: left and right of a pair are one where nothing told them apart.

    words: what else their row says of an item.
    """
    rows: list[list[Entry]] = []
    single: dict[int, list[Entry]] = {}
    for one in found:
        mate = single.get(one.row.fit_id) if one.row.fit_id and one.row.side else None
        if mate and _alike(mate[0], one) and words(mate[0].row) == words(one.row):
            mate.append(one)
            mate.sort(key=lambda entry: entry.row.side or "")
            continue
        rows.append([one])
        if one.row.fit_id and one.row.side:
            single[one.row.fit_id] = rows[-1]
    return [Together(tuple(row)) for row in rows]


def _alike(one: Entry, other: Entry) -> bool:
    if not are_a_pair(one.row, other.row) or one.row.state != other.row.state:
        return False
    if bool(one.tree) != bool(other.tree):
        return False
    if one.at is None or other.at is None:
        return one.at is other.at
    return abs(one.at - other.at) <= TOGETHER


def are_a_pair(one: BoardRow, other: BoardRow) -> bool:
    """Left and right of one pair."""
    return (one.fit_id, one.ticket_id) == (other.fit_id, other.ticket_id) and (
        {one.side, other.side} == {"left", "right"}
    )
