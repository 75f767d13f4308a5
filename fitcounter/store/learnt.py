"""Pairs of readings, try-ons and wears, as the book learns from them."""

from __future__ import annotations

from typing import NamedTuple

from fitcounter.store.database import Store
from fitcounter.store.outcomes import NEWEST_ROUNDS, newest_items_from

UM_PER_MM = 1000
# The girth of a boot when it was last read rested, with its round.
_RESTED = """rested_um IS NOT NULL AND rested_counts = 1"""
# As with the rounds, the newest speak for the shop; wears of about as many boots.
_NEWEST_WEARS = 20000


class FirstTryOn(NamedTuple):
    """A boot's first try-on. closed: it went on, snug or not; fits: what its first answer gave as
    the probability that a boot called done truly fits, None where it gave none.
    """

    closed: int
    fits: float | None


class WornTimes(NamedTuple):
    """The n-th wear of the calendars: how often worn, and how often something did not feel right
    that day.
    """

    n: int
    worn: int
    not_right: int


class FeltAfter(NamedTuple):
    """How the boots of one leather felt after a wear, by the rounds they had. told: boots tapped;
    good: of these.
    """

    material: str
    rounds: int
    n: int
    told: int
    good: int


def read_twice_mm(store: Store) -> list[float]:
    """Girth before a round, read anew, less the rested reading before it, by one tape at one mark.

    A rested boot that was read several times, or laid flat, says nothing of one reading of a tape.
    """
    sql = f"""
SELECT r.before_um - p.rested_um AS differ FROM rounds r
JOIN (SELECT * FROM rounds WHERE {_RESTED} AND rested_reads = '') p
  ON p.item_id = r.item_id AND p.n = r.n - 1
WHERE r.before_read = 1 AND r.method <> 'flat' AND r.mark_um IS p.mark_um
  AND coalesce(nullif(p.rested_method, ''), p.method) = r.method
  AND r.id > (SELECT coalesce(max(id), 0) - {NEWEST_ROUNDS} FROM rounds) ORDER BY r.id"""
    return [float(row["differ"]) / UM_PER_MM for row in store.rows(sql)]


def since_rested_mm(store: Store) -> list[float]:
    """Girth at pickup less the boot's last rested reading, by one tape at one mark."""
    sql = f"""
SELECT b.girth_um - p.rested_um AS differ FROM boot_readings b
JOIN (SELECT * FROM rounds WHERE {_RESTED}) p ON p.item_id = b.item_id
  AND p.n = (SELECT max(n) FROM rounds WHERE item_id = b.item_id AND {_RESTED})
WHERE b.moment = 'pickup' AND b.repeat = 1 AND b.height_um = p.mark_um AND b.method <> 'flat'
  AND coalesce(nullif(p.rested_method, ''), p.method) = b.method
  AND b.item_id >= ? ORDER BY b.item_id"""
    rows = store.rows(sql, newest_items_from(store))
    return [float(row["differ"]) / UM_PER_MM for row in rows]


def first_try_ons(store: Store) -> list[FirstTryOn]:
    """Of every stretched boot that had a round, of the newest, in the order of the steps."""
    sql = """
SELECT s.step = 'try-on' AS closed,
  (SELECT json_extract(p.assessment, '$.fits') FROM predictions p WHERE p.item_id = s.item_id
  ORDER BY p.id LIMIT 1) AS fits
FROM items i JOIN steps s ON s.id = (SELECT min(id) FROM steps WHERE item_id = i.id
  AND step IN ('try-on', 'back-on-tree') AND undone_at IS NULL)
WHERE i.id >= ? AND EXISTS
  (SELECT 1 FROM rounds r WHERE r.item_id = s.item_id AND r.off_at IS NOT NULL)
ORDER BY s.id"""
    return store.all(FirstTryOn, sql, newest_items_from(store))


def worn_times(store: Store) -> list[WornTimes]:
    """Of the newest, by the number of the wear."""
    sql = f"""
SELECT w.n, count(*) AS worn, sum(EXISTS (SELECT 1 FROM follow_ups f
  WHERE f.ticket_id = p.ticket_id AND f.kind = 'not-right' AND f.due_day = w.local_day))
  AS not_right
FROM wears w JOIN wear_plans p ON p.id = w.plan_id WHERE w.state = 'worn'
  AND w.id > (SELECT coalesce(max(id), 0) - {_NEWEST_WEARS} FROM wears) GROUP BY w.n
ORDER BY w.n"""
    return store.all(WornTimes, sql)


def felt_after_wears(store: Store) -> list[FeltAfter]:
    """Of the newest taps, by leather, rounds and the number of the wear."""
    sql = f"""
SELECT i.material, (SELECT count(*) FROM rounds r WHERE r.item_id = i.id AND r.off_at IS NOT NULL)
  AS rounds, f.n, count(*) AS told, sum(f.feel = 'good') AS good
FROM wear_feelings f JOIN items i ON i.ticket_id = f.ticket_id AND i.side = f.side
  AND i.kind = 'boot' AND i.work = 'stretch' WHERE f.n > 0
  AND f.id > (SELECT coalesce(max(id), 0) - {_NEWEST_WEARS} FROM wear_feelings)
GROUP BY 1, 2, 3 ORDER BY 1, 2, 3"""
    return store.all(FeltAfter, sql)
