"""The rows behind a measuring sheet: as the sheet shows them; who read an unchanged one, and when,
stays.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from fitcounter.desk.assessment.job import with_unit
from fitcounter.desk.measuring.sheet import READS, Cell
from fitcounter.store import readings
from fitcounter.store.database import Act, Store, utc_text
from fitcounter.store.readings import BroughtIn
from fitcounter.store.records import BootReading, Fit, GapReading, Item, LegReading

MOMENT = "brought-in"
Key = tuple[str, str | None, int, int, str]


def rows_of(
    act: Act,
    fit: Fit,
    boots: Sequence[Item],
    target: str,
    method: str,
    cells: Sequence[Cell],
    stored: BroughtIn,
) -> BroughtIn:
    """What is read of the pair once the cells stand in place of all readings of the kinds that this
    target reads.
    """
    before = _held(stored, boots)
    legs: list[LegReading] = []
    shafts: dict[int, list[BootReading]] = {boot.id: [] for boot in boots}
    gaps: dict[tuple[int, str], list[GapReading]] = {
        (boot.id, kind): [] for boot in boots for kind in ("gap", "amount")
    }
    by_side = {str(boot.side): boot.id for boot in boots}
    fresh = (utc_text(act.at), act.staff_id)
    for cell in sorted(cells, key=lambda one: (one.height.um, one.repeat)):
        um, read, n, item = cell.height.um, cell.length, cell.repeat, by_side[cell.side]
        up = with_unit(
            cell.height.text, cell.height.unit, um
        )  # the unit column of its row is the reading's
        at, who = before.get((cell.what, cell.side, um, n, read.text), fresh)
        if cell.what == "leg":
            legs.append(
                LegReading(
                    0,
                    fit.id,
                    cell.side,
                    MOMENT,
                    cell.station,
                    um,
                    up,
                    read.um,
                    read.text,
                    read.unit,
                    n,
                    at,
                    who,
                )
            )
        elif cell.what == "boot":
            shafts[item].append(
                BootReading(
                    0, item, MOMENT, um, up, read.um, read.text, read.unit, method, n, at, who
                )
            )
        else:
            gaps[item, cell.what].append(
                GapReading(0, item, cell.what, um, up, read.um, read.text, read.unit, n, at, who)
            )
    kinds = READS[target]
    for key, kept in stored.gaps.items():
        gaps[key] = gaps.get(key, []) if key[1] in kinds else list(kept)
    return BroughtIn(
        sorted(legs, key=lambda one: one.side) if "leg" in kinds else stored.legs, shafts, gaps
    )


def write_rows(store: Store, fit: Fit, boots: Sequence[Item], target: str, read: BroughtIn) -> None:
    """Puts them in place of all readings of the kinds that this target reads, inside a write."""
    kinds = READS[target]
    if "leg" in kinds:
        readings.drop_legs(store, fit.id)
        store.insert_all("leg_readings", read.legs)
    for boot in boots:
        readings.drop_boots(store, boot.id)
        store.insert_all("boot_readings", read.boots[boot.id])
        for kind in {"gap", "amount"} & set(kinds):
            readings.drop_gaps(store, boot.id, kind)
            store.insert_all("gap_readings", read.gaps[boot.id, kind])


def _held(read: BroughtIn, boots: Sequence[Item]) -> Mapping[Key, tuple[str, int | None]]:
    """When, and by whom, what is there was read."""
    found: dict[Key, tuple[str, int | None]] = {}
    for leg in read.legs:
        found["leg", leg.side, leg.height_um, leg.repeat, leg.girth_text] = (
            leg.read_at,
            leg.staff_id,
        )
    for boot in boots:
        for one in read.boots[boot.id]:
            found["boot", boot.side, one.height_um, one.repeat, one.girth_text] = (
                one.read_at,
                one.staff_id,
            )
        for kind in ("gap", "amount"):
            for gap in read.gaps[boot.id, kind]:
                found[kind, boot.side, gap.height_um, gap.repeat, gap.gap_text] = (
                    gap.read_at,
                    gap.staff_id,
                )
    return found
