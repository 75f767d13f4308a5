"""The last bench plan, a boot a row: the days it gave, and what it was reckoned from, so that only
what changed is reckoned again.
"""

from __future__ import annotations

import hashlib
import json
from collections.abc import Collection, Iterable, Sequence
from functools import cache
from typing import NamedTuple

from fitcounter.store import outcomes, settings
from fitcounter.store.database import Store, marks


class BootDays(NamedTuple):
    """A boot in the plan. stamp: of the rows it was reckoned from; likely, eight_in_ten: further
    rounds, None for more than counted.

    trees: labels, best first, one a line. steps: JSON of (what, day, tree, round). why: why it has
    no days.
    """

    item_id: int
    stamp: str
    likely: int | None
    eight_in_ten: int | None
    trees: str
    hope_day: str | None
    ready_day: str | None
    waits_days: int
    steps: str
    why: str


def everything(store: Store) -> dict[int, BootDays]:
    """By item."""
    return {one.item_id: one for one in store.all(BootDays, "SELECT * FROM bench_days")}


def of_tickets(store: Store, ticket_ids: Collection[int]) -> dict[int, BootDays]:
    """Those of the boots of these tickets, by item."""
    sql = (
        "SELECT d.* FROM bench_days d JOIN items i ON i.id = d.item_id WHERE i.ticket_id IN"
        " (SELECT value FROM json_each(?))"
    )
    return {one.item_id: one for one in store.all(BootDays, sql, json.dumps(list(ticket_ids)))}


def replace_all(store: Store, rows: Iterable[BootDays]) -> None:
    """Puts a new plan in the place of the old one, inside a write."""
    store.db.execute("DELETE FROM bench_days")
    for one in rows:
        store.insert(
            "bench_days",
            item_id=one.item_id,
            stamp=one.stamp,
            likely=one.likely,
            eight_in_ten=one.eight_in_ten,
            trees=one.trees,
            hope_day=one.hope_day,
            ready_day=one.ready_day,
            waits_days=one.waits_days,
            steps=one.steps,
            why=one.why,
        )


# A text that changes when anything does that the rounds of boot i are reckoned from.
_STAMP = """i.version || '.' || f.version || '.' || coalesce(f.hold_h, 0) || '.' ||
  (SELECT count(*) || ':' || coalesce(sum(girth_um + height_um), 0) FROM boot_readings b
  WHERE b.item_id = i.id) || '.' ||
  (SELECT count(*) || ':' || coalesce(sum(girth_um + height_um), 0) FROM leg_readings l
  WHERE l.fit_id = f.id) || '.' ||
  (SELECT count(*) || ':' || coalesce(sum(gap_um + height_um), 0) FROM gap_readings g
  WHERE g.item_id = i.id) || '.' ||
  (SELECT count(*) FROM findings w WHERE w.item_id = i.id)"""
_STAMPS = (
    f"SELECT i.id, {_STAMP} AS stamp FROM items i JOIN fits f ON f.id = i.fit_id"
    " WHERE i.work = 'stretch' AND i.state NOT IN ('out', 'closed')"
)
_PLANNED = f"""SELECT json_array(i.id, {_STAMP}, i.state, i.side, i.since, i.promised_day,
  i.waits_for, t.promise_day, t.pickup_day, t.handed_over_at, f.id, f.max_rounds,
  r.n, r.tree_id, r.on_at, r.due_off_at, r.off_at) AS one
FROM items i JOIN fits f ON f.id = i.fit_id JOIN tickets t ON t.id = i.ticket_id
LEFT JOIN rounds r ON r.item_id = i.id AND r.n =
  (SELECT max(n) FROM rounds m WHERE m.item_id = i.id)
WHERE i.work = 'stretch' AND i.state NOT IN ('out', 'closed')"""
_CLOSED = "SELECT json_array(id, from_day, to_day, why, kind) AS one FROM closures ORDER BY id"
_OTHER_WORK = """SELECT json_array(l.item_id, w.timing, w.days) AS one
FROM work_lines l JOIN works w ON w.id = l.work_id
WHERE l.state = 'waiting' OR l.state = 'working' ORDER BY l.item_id, l.id"""
_BOOKED = """SELECT json_array(tree_id, item_id, kind, round_n, from_day, to_day) AS one
FROM bookings ORDER BY tree_id, from_day"""

_TREE_STAMP = """(SELECT count(*) || ':' || coalesce(sum(version), 0) FROM trees) || '/' ||
  (SELECT count(*) || ':' || coalesce(max(id), 0) FROM tree_calibration)"""


@cache
def _made_from(states: int) -> str:
    """The statement behind `kept_plan`, for so many states, which are bound one by one: a list of
    them in JSON is a table that SQLite opens anew for every write.
    """
    asked = marks(range(states))
    planned = f"{_PLANNED} AND i.state IN ({asked}) ORDER BY i.id"
    return (
        "SELECT (SELECT day FROM bench_plan), (SELECT made_from FROM bench_plan),"
        f" {_TREE_STAMP}, {settings.STAMP}, {outcomes.ROUNDS_STAMP}, "
    ) + ", ".join(
        f"(SELECT group_concat(one, char(10)) FROM ({rows}))"
        for rows in (planned, _CLOSED, _OTHER_WORK, _BOOKED)
    )


def stamps(store: Store) -> dict[int, str]:
    """For every open boot, a text that changes when anything does that its rounds are reckoned
    from.
    """
    return {row["id"]: row["stamp"] for row in store.rows(_STAMPS)}


class KeptPlan(NamedTuple):
    """The plan that is kept, and what another one would be made from now. day: of the plan, ISO;
    made_from: its fingerprint; both "" where none was made yet. now: the fingerprint of today.
    """

    day: str
    made_from: str
    now: str


def kept_plan(store: Store, states: Sequence[str]) -> KeptPlan:
    """The plan that is kept beside what it would be made from now.

    A fingerprint is the SHA-256 in hex over every row that a plan of the boots in these states is
    made from: boots, pairs, tickets, rounds, readings, trees, days, bookings, the shop's choices
    and what its finished boots taught it.
    """
    row = store.db.conn.execute(_made_from(len(states)), states).fetchone()
    now = hashlib.sha256(repr(row[2:]).encode()).hexdigest()
    return KeptPlan(row[0] or "", row[1] or "", now)


def day_made(store: Store) -> str:
    """Of the plan that is kept, ISO; "" where none was made yet."""
    return str(store.value("SELECT day FROM bench_plan") or "")


def keep_made_from(store: Store, day: str, made_from: str) -> None:
    """Keeps what the plan was made from, inside the write that keeps the plan."""
    store.db.execute("DELETE FROM bench_plan")
    store.insert("bench_plan", id=1, day=day, made_from=made_from)


def tree_stamp(store: Store) -> str:
    """A text that changes when any tree or its readings do."""
    return str(store.value(f"SELECT {_TREE_STAMP}"))
