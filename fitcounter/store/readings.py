"""Readings: legs, boots, gaps and asked amounts, each with the text and the unit that was typed."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Mapping, Sequence
from typing import NamedTuple

from fitcounter.store.database import Act, Store, marks, utc_text
from fitcounter.store.records import BootReading, GapReading, LegReading


class BroughtIn(NamedTuple):
    """What was read of a pair when it was brought in, by height and repeat.

    boots: by item; gaps: by item and kind (gap, amount).
    """

    legs: Sequence[LegReading]
    boots: Mapping[int, Sequence[BootReading]]
    gaps: Mapping[tuple[int, str], Sequence[GapReading]]


def brought_in(store: Store, fit_id: int, boot_ids: Sequence[int]) -> BroughtIn:
    """All of it in three questions; a boot or a kind that was not read has an empty list.

    boot_ids: the boots of the fit that are asked about.
    """
    boots: dict[int, list[BootReading]] = defaultdict(list)
    gaps: dict[tuple[int, str], list[GapReading]] = defaultdict(list)
    sql = (
        f"SELECT * FROM boot_readings WHERE item_id IN ({marks(boot_ids)}) AND moment ="
        " 'brought-in' ORDER BY item_id, height_um, repeat"
    )
    for one in store.all(BootReading, sql, *boot_ids):
        boots[one.item_id].append(one)
    sql = (
        f"SELECT * FROM gap_readings WHERE item_id IN ({marks(boot_ids)}) ORDER BY item_id, kind,"
        " height_um, repeat"
    )
    for gap in store.all(GapReading, sql, *boot_ids):
        gaps[gap.item_id, gap.kind].append(gap)
    return BroughtIn(legs(store, fit_id), boots, gaps)


def read_items(store: Store, item_ids: Sequence[int]) -> set[int]:
    """Those of these boots that were read when they were brought in."""
    sql = (
        "SELECT DISTINCT item_id FROM boot_readings WHERE moment = 'brought-in' AND item_id IN"
        f" ({marks(item_ids)})"
    )
    return {int(row["item_id"]) for row in store.rows(sql, *item_ids)}


def legs(store: Store, fit_id: int, moment: str = "brought-in") -> list[LegReading]:
    """By side, height and repeat."""
    sql = (
        "SELECT * FROM leg_readings WHERE fit_id = ? AND moment = ? ORDER BY side, height_um,"
        " repeat"
    )
    return store.all(LegReading, sql, fit_id, moment)


def boots(store: Store, item_id: int, moment: str = "brought-in") -> list[BootReading]:
    """By height and repeat."""
    sql = "SELECT * FROM boot_readings WHERE item_id = ? AND moment = ? ORDER BY height_um, repeat"
    return store.all(BootReading, sql, item_id, moment)


def drop_legs(store: Store, fit_id: int, moment: str = "brought-in") -> None:
    """Takes the leg readings of one moment away before the sheet writes them anew, inside a
    write.
    """
    store.db.conn.execute(
        "DELETE FROM leg_readings WHERE fit_id = ? AND moment = ?", [fit_id, moment]
    )


def drop_boots(store: Store, fit_id: int, moment: str = "brought-in") -> None:
    """The same for the readings of its boots."""
    store.db.conn.execute(
        "DELETE FROM boot_readings WHERE moment = ? AND item_id IN"
        " (SELECT id FROM items WHERE fit_id = ?)",
        [moment, fit_id],
    )


def drop_gaps(store: Store, item_id: int, kind: str) -> None:
    """The same for the gaps, or the asked amounts, of one boot."""
    store.db.conn.execute(
        "DELETE FROM gap_readings WHERE item_id = ? AND kind = ?", [item_id, kind]
    )


def add_boot(store: Store, act: Act, item_id: int, moment: str, **columns: object) -> None:
    """columns: height_um, height_text, girth_um, girth_text, unit, method, repeat."""
    store.insert(
        "boot_readings",
        **{
            "item_id": item_id,
            "moment": moment,
            "read_at": utc_text(act.at),
            "staff_id": act.staff_id,
            **columns,
        },
    )
