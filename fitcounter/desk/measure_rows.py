"""The rows behind a measuring sheet: written as the sheet shows them; who read an unchanged one, and when, stays."""

from __future__ import annotations

from collections.abc import Sequence

from fitcounter.desk.sheet import READS, Cell
from fitcounter.errors import BadReading
from fitcounter.fit.tape import Length, parse_length
from fitcounter.store import readings
from fitcounter.store.database import Act, Store, utc_text
from fitcounter.store.records import Fit, Item

MOMENT = "brought-in"
Key = tuple[str, str | None, int, int, str]


def write_cells(store: Store, act: Act, fit: Fit, boots: Sequence[Item], target: str, method: str, cells: Sequence[Cell]) -> None:
    """Puts the cells in place of all readings of the kinds that this target reads, inside a write."""
    before = _held(store, fit, boots)
    _drop(store, fit, boots, READS[target])
    by_side = {str(boot.side): boot.id for boot in boots}
    rows: dict[str, list[dict[str, object]]] = {"leg_readings": [], "boot_readings": [], "gap_readings": []}
    fresh = {"read_at": utc_text(act.at), "staff_id": act.staff_id}
    for cell in cells:
        kept = before.get((cell.what, cell.side, cell.height.um, cell.repeat, cell.length.text), fresh)
        height = {"height_um": cell.height.um, "height_text": _with_own_unit(cell.height)}
        row = {**height, "unit": cell.length.unit, "repeat": cell.repeat, **kept}
        girth = {"girth_um": cell.length.um, "girth_text": cell.length.text}
        if cell.what == "leg":
            rows["leg_readings"].append({"fit_id": fit.id, "side": cell.side, "station": cell.station, **row, **girth})
        elif cell.what == "boot":
            rows["boot_readings"].append({"item_id": by_side[cell.side], "moment": MOMENT, "method": method, **row, **girth})
        else:
            gap = {"gap_um": cell.length.um, "gap_text": cell.length.text}
            rows["gap_readings"].append({"item_id": by_side[cell.side], "kind": cell.what, **row, **gap})
    for table, of_table in rows.items():
        store.insert_all(table, of_table)


def _drop(store: Store, fit: Fit, boots: Sequence[Item], kinds: Sequence[str]) -> None:
    if "leg" in kinds:
        readings.drop_legs(store, fit.id)
    for boot in boots:
        if "boot" in kinds:
            readings.drop_boots(store, boot.id)
        for kind in {"gap", "amount"} & set(kinds):
            readings.drop_gaps(store, boot.id, kind)


def _with_own_unit(height: Length) -> str:
    """A height's text says its own unit, because the unit column of its row is the reading's."""
    try:
        says_it = parse_length(height.text, "mm", zero_ok=True).unit == parse_length(height.text, "in", zero_ok=True).unit
    except BadReading:
        says_it = False
    return height.text if says_it else f"{height.text} {height.unit}"


def _held(store: Store, fit: Fit, boots: Sequence[Item]) -> dict[Key, dict[str, object]]:
    """Who read what, and when, of the readings that are there."""
    read = readings.brought_in(store, fit.id)
    found: dict[Key, dict[str, object]] = {}
    for leg in read.legs:
        found["leg", leg.side, leg.height_um, leg.repeat, leg.girth_text] = {"read_at": leg.read_at, "staff_id": leg.staff_id}
    for boot in boots:
        for one in read.boots[boot.id]:
            found["boot", boot.side, one.height_um, one.repeat, one.girth_text] = {"read_at": one.read_at, "staff_id": one.staff_id}
        for kind in ("gap", "amount"):
            for gap in read.gaps[boot.id, kind]:
                found[kind, boot.side, gap.height_um, gap.repeat, gap.gap_text] = {"read_at": gap.read_at, "staff_id": gap.staff_id}
    return found
