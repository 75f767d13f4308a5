"""The rows behind a measuring sheet: written as the sheet shows them; who read an unchanged one, and when, stays."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from fitcounter.desk.sheet import READS, Cell
from fitcounter.errors import BadReading
from fitcounter.fit.tape import Length, parse_length
from fitcounter.store import readings
from fitcounter.store.database import Act, Store
from fitcounter.store.records import Fit, Item

MOMENT = "brought-in"
Key = tuple[str, str | None, int, int, str]


def write_cells(store: Store, act: Act, fit: Fit, boots: Sequence[Item], target: str, method: str, cells: Sequence[Cell]) -> None:
    """Puts the cells in place of all readings of the kinds that this target reads, inside a write."""
    before = _held(store, fit, boots)
    kinds = READS[target]
    _drop(store, fit, boots, kinds)
    by_side = {str(boot.side): boot for boot in boots}
    for cell in cells:
        kept = before.get((cell.what, cell.side, cell.height.um, cell.repeat, cell.length.text), {})
        height = {"height_um": cell.height.um, "height_text": _with_own_unit(cell.height), "unit": cell.length.unit, **kept}
        girth = {"girth_um": cell.length.um, "girth_text": cell.length.text, "repeat": cell.repeat}
        gap = {"gap_um": cell.length.um, "gap_text": cell.length.text, "repeat": cell.repeat}
        if cell.what == "leg":
            readings.add_leg(store, act, fit.id, side=cell.side, station=cell.station, **height, **girth)
        elif cell.what == "boot":
            readings.add_boot(store, act, by_side[cell.side].id, MOMENT, method=method, **height, **girth)
        else:
            readings.add_gap(store, act, by_side[cell.side].id, cell.what, **height, **gap)


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


def _held(store: Store, fit: Fit, boots: Sequence[Item]) -> dict[Key, dict[str, Any]]:
    """Who read what, and when, of the readings that are there."""
    found: dict[Key, dict[str, Any]] = {}
    for leg in readings.legs(store, fit.id):
        found["leg", leg.side, leg.height_um, leg.repeat, leg.girth_text] = {"read_at": leg.read_at, "staff_id": leg.staff_id}
    for boot in boots:
        for one in readings.boots(store, boot.id):
            found["boot", boot.side, one.height_um, one.repeat, one.girth_text] = {"read_at": one.read_at, "staff_id": one.staff_id}
        for kind in ("gap", "amount"):
            for gap in readings.gaps(store, boot.id, kind):
                found[kind, boot.side, gap.height_um, gap.repeat, gap.gap_text] = {"read_at": gap.read_at, "staff_id": gap.staff_id}
    return found
