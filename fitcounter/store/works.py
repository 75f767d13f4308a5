"""Jobs on boots that are here anyway: what was asked for and at which price, and where it is on
each boot.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple

from fitcounter.errors import NotFound, message
from fitcounter.fit.work_timing import OPEN, LineState, OrderedLine, Timing
from fitcounter.store.database import Act, Store, utc_text


class WorkRow(NamedTuple):
    """A job as it was asked for. amount_minor: its price until it is agreed; line_id: of the
    ticket's price from then on. answer: why the shop does not do it, "" where it does.
    """

    id: int
    ticket_id: int
    what: str
    timing: str
    days: int
    amount_minor: int
    taxable: int
    line_id: int | None
    answer: str
    asked_at: str
    staff_id: int | None
    version: int


class WorkLine(NamedTuple):
    """A job on one boot, with what belongs to the whole job. note: what was found, or why not."""

    id: int
    work_id: int
    item_id: int
    state: str
    note: str
    since: str
    staff_id: int | None
    what: str
    timing: str
    days: int
    line_id: int | None

    @property
    def is_open(self) -> bool:
        return self.state in OPEN

    @property
    def ordered(self) -> OrderedLine:
        """What the order of work asks of it."""
        return OrderedLine(self.what, Timing(self.timing), LineState(self.state))


_LINES = (
    "SELECT l.*, w.what, w.timing, w.days, w.line_id FROM work_lines l JOIN works w ON w.id ="
    " l.work_id"
)
_ORDER = (
    "ORDER BY CASE w.timing WHEN 'before' THEN 0 WHEN 'last' THEN 2 ELSE 1 END, w.id, l.item_id"
)
_STILL = "(l.state = 'waiting' OR l.state = 'working')"


def of_ticket(store: Store, ticket_id: int) -> list[WorkRow]:
    """In the order they were asked for."""
    return store.all(WorkRow, "SELECT * FROM works WHERE ticket_id = ? ORDER BY id", ticket_id)


def get(store: Store, work_id: int) -> WorkRow:
    """Raises NotFound."""
    found = store.first(WorkRow, "SELECT * FROM works WHERE id = ?", work_id)
    if found is None:
        raise NotFound(message("No such work on this ticket."))
    return found


def of_item(store: Store, item_id: int) -> list[WorkLine]:
    """In the order of work."""
    return store.all(WorkLine, f"{_LINES} WHERE l.item_id = ? {_ORDER}", item_id)


def lines_of_ticket(store: Store, ticket_id: int) -> list[WorkLine]:
    """Of all its boots, in the order of work."""
    return store.all(WorkLine, f"{_LINES} WHERE w.ticket_id = ? {_ORDER}", ticket_id)


def open_of_item(store: Store, item_id: int) -> list[WorkLine]:
    """What is still to be done on one boot."""
    return [one for one in of_item(store, item_id) if one.is_open]


def all_open(store: Store) -> dict[int, list[WorkLine]]:
    """What is still to be done, by item, in the order of work."""
    found: dict[int, list[WorkLine]] = {}
    for one in store.all(WorkLine, f"{_LINES} WHERE {_STILL} {_ORDER}"):
        found.setdefault(one.item_id, []).append(one)
    return found


def line(store: Store, line_id: int) -> WorkLine:
    """Raises NotFound."""
    found = store.first(WorkLine, f"{_LINES} WHERE l.id = ?", line_id)
    if found is None:
        raise NotFound(message("No such work on this ticket."))
    return found


def add(store: Store, act: Act, item_ids: Sequence[int], **columns: object) -> int:
    """A job on each of these items, inside a write. columns: of works. None of it is begun; what
    the shop does not do is on no boot.
    """
    at = utc_text(act.at)
    work_id = store.insert("works", asked_at=at, staff_id=act.staff_id, **columns)
    for item_id in item_ids if not columns.get("answer") else ():
        store.insert(
            "work_lines", work_id=work_id, item_id=item_id, since=at, staff_id=act.staff_id
        )
    return work_id


def set_state(store: Store, act: Act, line_id: int, state: str, at: str, note: str) -> None:
    """Where a job on one boot is now, inside a write. at: UTC text."""
    store.change("work_lines", line_id, state=state, since=at, note=note, staff_id=act.staff_id)


def bill(store: Store, work_id: int, line_id: int) -> None:
    """The job is part of the agreed price from now on, inside a write."""
    store.change("works", work_id, line_id=line_id)


def not_wanted(store: Store, act: Act, line_id: int) -> None:
    """What a price line was about is not to be done any more, before the line goes, inside a
    write.
    """
    rows = store.rows(
        "SELECT l.id FROM work_lines l JOIN works w ON w.id = l.work_id WHERE w.line_id = ? AND"
        " (l.state = 'waiting' OR l.state = 'working')",
        line_id,
    )
    for row in rows:
        set_state(store, act, int(row["id"]), LineState.NOT_DONE, utc_text(act.at), "")


def drop(store: Store, work_id: int) -> None:
    """Takes out a job that was never agreed, inside a write."""
    store.db.execute("DELETE FROM work_lines WHERE work_id = ?", [work_id])
    store.db.execute("DELETE FROM works WHERE id = ? AND line_id IS NULL", [work_id])


def days_of(store: Store) -> dict[int, tuple[int, int]]:
    """Days of open work by item: those before stretching, all others."""
    sql = (
        "SELECT l.item_id, sum(CASE w.timing WHEN 'before' THEN w.days ELSE 0 END) AS before,"
        " sum(CASE w.timing WHEN 'before' THEN 0 ELSE w.days END) AS after FROM work_lines l JOIN"
        f" works w ON w.id = l.work_id WHERE {_STILL} GROUP BY l.item_id"
    )
    return {int(r["item_id"]): (int(r["before"]), int(r["after"])) for r in store.rows(sql)}
