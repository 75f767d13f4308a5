"""The rows behind a measuring sheet: as the sheet shows them; who read an unchanged one, and when,
stays.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from fitcounter.desk.assessment.readings import (
    KINDS,
    ExactReading,
    exact_readings,
    stored_length,
)
from fitcounter.desk.measuring.sheet import READS, Cell
from fitcounter.store import readings
from fitcounter.store.database import Act, Store, utc_text
from fitcounter.store.readings import BroughtIn
from fitcounter.store.records import BootReading, Fit, GapReading, Item, LegReading

MOMENT = "brought-in"
# Kind, side, height in µm, repeat, text as typed.
Key = tuple[str, str | None, int, int, str]
# A fit, its boots, and what is stored of their readings.
PairAsStored = tuple[Fit, Sequence[Item], BroughtIn]
# When (UTC text), and by whom.
ReadBy = tuple[str, int | None]


def rows_of(
    act: Act, pair: PairAsStored, *, target: str, method: str, cells: Sequence[Cell]
) -> BroughtIn:
    """What is read of the pair once the cells stand in place of all readings of the kinds that this
    target reads. cells: as of `by_height`.
    """
    fit, boots, stored = pair
    kinds, by_side = READS[target], {str(boot.side): boot.id for boot in boots}
    before, now = _first_read(stored, boots), (utc_text(act.at), act.staff_id)
    legs: list[LegReading] = []
    shafts: dict[int, list[BootReading]] = {boot.id: [] for boot in boots}
    gaps = {
        (boot.id, kind): [] if kind in kinds else list(stored.gaps[boot.id, kind])
        for boot in boots
        for kind in ("gap", "amount")
    }
    for what, side, _, n, height, read, station in cells:
        # the unit column of a row is the reading's, so the height's text says its own
        um, text, unit, high, high_text = read.um, read.text, read.unit, height.um, height.text
        at, who = before.get((what, side, high, n, text), now)
        # by place: names cost more than all the rest of a row
        if what == "leg":
            leg = LegReading(
                fit.id, side, MOMENT, station, high, high_text, um, text, unit, n, at, who
            )
            legs.append(leg)
        elif what == "boot":
            boot = by_side[side]
            shaft = BootReading(boot, MOMENT, high, high_text, um, text, unit, method, n, at, who)
            shafts[boot].append(shaft)
        else:
            boot = by_side[side]
            gap = GapReading(0, boot, what, high, high_text, um, text, unit, n, at, who)
            gaps[boot, what].append(gap)
    if "leg" not in kinds:
        return BroughtIn(stored.legs, shafts, gaps)
    return BroughtIn(sorted(legs, key=lambda leg: leg.side), shafts, gaps)


def by_height(cells: Sequence[Cell]) -> list[Cell]:
    """The cells in the order in which readings are kept and reckoned with: height and repeat."""
    return sorted(cells, key=lambda cell: (cell.height.um, cell.repeat))


def exact_of(
    boots: Sequence[Item], target: str, cells: Sequence[Cell], stored: BroughtIn
) -> list[ExactReading]:
    """The same in exact lengths: those of the cells, as of `by_height`, as they were parsed, and
    what else stands.
    """
    typed = [
        ExactReading(what, side, station, height, stored_length(read.text, read.unit, read.um))
        for what, side, _, _, height, read, station in cells
    ]
    others = tuple(kind for kind in KINDS if kind not in READS[target])
    return typed + exact_readings(stored, boots, others)


def write_rows(store: Store, fit: Fit, boots: Sequence[Item], target: str, read: BroughtIn) -> None:
    """Puts them in place of all readings of the kinds that this target reads, inside a write."""
    kinds = READS[target]
    if "leg" in kinds:
        readings.drop_legs(store, fit.id)
        store.insert_all("leg_readings", read.legs)
    readings.drop_boots(store, fit.id)
    store.insert_all("boot_readings", [one for boot in boots for one in read.boots[boot.id]])
    for boot in boots:
        for kind in {"gap", "amount"} & set(kinds):
            readings.drop_gaps(store, boot.id, kind)
            store.insert_all("gap_readings", read.gaps[boot.id, kind])


def _first_read(read: BroughtIn, boots: Sequence[Item]) -> Mapping[Key, ReadBy]:
    """When, and by whom, each reading that is stored was read."""
    first: dict[Key, ReadBy] = {
        ("leg", leg.side, leg.height_um, leg.repeat, leg.girth_text): (leg.read_at, leg.staff_id)
        for leg in read.legs
    }
    for boot in boots:
        side = boot.side
        for shaft in read.boots[boot.id]:
            key = ("boot", side, shaft.height_um, shaft.repeat, shaft.girth_text)
            first[key] = (shaft.read_at, shaft.staff_id)
        for kind in ("gap", "amount"):
            for gap in read.gaps[boot.id, kind]:
                key = (kind, side, gap.height_um, gap.repeat, gap.gap_text)
                first[key] = (gap.read_at, gap.staff_id)
    return first
