"""Readings: legs, boots, gaps and asked amounts, each with the text and the unit that was typed."""

from __future__ import annotations

from fitcounter.store.database import Act, Store, utc_text
from fitcounter.store.records import BootReading, GapReading, LegReading


def legs(store: Store, fit_id: int, moment: str = "brought-in") -> list[LegReading]:
    """By side, height and repeat."""
    sql = "SELECT * FROM leg_readings WHERE fit_id = ? AND moment = ? ORDER BY side, height_um, repeat"
    return store.all(LegReading, sql, fit_id, moment)


def boots(store: Store, item_id: int, moment: str = "brought-in") -> list[BootReading]:
    """By height and repeat."""
    sql = "SELECT * FROM boot_readings WHERE item_id = ? AND moment = ? ORDER BY height_um, repeat"
    return store.all(BootReading, sql, item_id, moment)


def gaps(store: Store, item_id: int, kind: str) -> list[GapReading]:
    """kind: gap or amount. By height and repeat."""
    return store.all(GapReading, "SELECT * FROM gap_readings WHERE item_id = ? AND kind = ? ORDER BY height_um, repeat", item_id, kind)


def drop_legs(store: Store, fit_id: int, moment: str = "brought-in") -> None:
    """Takes the leg readings of one moment away before the sheet writes them anew, inside a write."""
    store.db.execute("DELETE FROM leg_readings WHERE fit_id = ? AND moment = ?", [fit_id, moment])


def drop_boots(store: Store, item_id: int, moment: str = "brought-in") -> None:
    """The same for the readings of one boot."""
    store.db.execute("DELETE FROM boot_readings WHERE item_id = ? AND moment = ?", [item_id, moment])


def drop_gaps(store: Store, item_id: int, kind: str) -> None:
    """The same for the gaps, or the asked amounts, of one boot."""
    store.db.execute("DELETE FROM gap_readings WHERE item_id = ? AND kind = ?", [item_id, kind])


def add_leg(store: Store, act: Act, fit_id: int, **columns: object) -> int:
    """columns: side, station, height_um, height_text, girth_um, girth_text, unit, repeat; moment where it is not brought-in."""
    return store.insert("leg_readings", **{"fit_id": fit_id, "read_at": utc_text(act.at), "staff_id": act.staff_id, **columns})


def add_boot(store: Store, act: Act, item_id: int, moment: str, **columns: object) -> int:
    """columns: height_um, height_text, girth_um, girth_text, unit, method, repeat."""
    return store.insert(
        "boot_readings", **{"item_id": item_id, "moment": moment, "read_at": utc_text(act.at), "staff_id": act.staff_id, **columns}
    )


def add_gap(store: Store, act: Act, item_id: int, kind: str, **columns: object) -> int:
    """columns: height_um, height_text, gap_um, gap_text, unit, repeat."""
    return store.insert(
        "gap_readings", **{"item_id": item_id, "kind": kind, "read_at": utc_text(act.at), "staff_id": act.staff_id, **columns}
    )
