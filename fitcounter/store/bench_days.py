"""The last bench plan, a boot a row: the days it gave, and what it was reckoned from, so that only
what changed is reckoned again.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from fitcounter.store.database import Store


@dataclass(frozen=True, slots=True)
class BootDays:
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


_STAMPS = """
SELECT i.id, i.version || '.' || f.version || '.' || coalesce(f.hold_h, 0) || '.' ||
  (SELECT count(*) || ':' || coalesce(sum(girth_um + height_um), 0) FROM boot_readings b
  WHERE b.item_id = i.id) || '.' ||
  (SELECT count(*) || ':' || coalesce(sum(girth_um + height_um), 0) FROM leg_readings l
  WHERE l.fit_id = f.id) || '.' ||
  (SELECT count(*) || ':' || coalesce(sum(gap_um + height_um), 0) FROM gap_readings g
  WHERE g.item_id = i.id) || '.' ||
  (SELECT count(*) FROM findings w WHERE w.item_id = i.id) AS stamp
FROM items i JOIN fits f ON f.id = i.fit_id WHERE i.work = 'stretch'
  AND i.state NOT IN ('out', 'closed')
"""


def stamps(store: Store) -> dict[int, str]:
    """For every open boot, a text that changes when anything does that its rounds are reckoned
    from.
    """
    return {row["id"]: row["stamp"] for row in store.rows(_STAMPS)}


def tree_stamp(store: Store) -> str:
    """A text that changes when any tree or its readings do."""
    trees = store.value("SELECT count(*) || ':' || coalesce(sum(version), 0) FROM trees")
    points = store.value("SELECT count(*) || ':' || coalesce(max(id), 0) FROM tree_calibration")
    return f"{trees}/{points}"
