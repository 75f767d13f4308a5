"""The rows behind a measuring sheet: as the sheet shows them; who read an unchanged one, and when,
stays.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from fitcounter.desk.assessment.readings import (
    KINDS,
    ExactReading,
    exact_readings,
    with_unit,
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
    builder = _Builder(fit.id, boots, method, _first_read(stored, boots), act)
    for cell in cells:
        builder.add(cell)
    kinds = READS[target]
    for key, kept in stored.gaps.items():
        builder.gaps[key] = builder.gaps.get(key, []) if key[1] in kinds else list(kept)
    legs = sorted(builder.legs, key=lambda leg: leg.side) if "leg" in kinds else stored.legs
    return BroughtIn(legs, builder.shafts, builder.gaps)


class _Builder:
    """The rows of the cells that it is given, in that order.

    read_before: when, and by whom, a reading that stands unchanged was read.
    """

    def __init__(
        self,
        fit_id: int,
        boots: Sequence[Item],
        method: str,
        read_before: Mapping[Key, ReadBy],
        act: Act,
    ) -> None:
        self.fit_id, self.method, self.read_before = fit_id, method, read_before
        self.by_side = {str(boot.side): boot.id for boot in boots}
        self.now: ReadBy = (utc_text(act.at), act.staff_id)
        self.legs: list[LegReading] = []
        self.shafts: dict[int, list[BootReading]] = {boot.id: [] for boot in boots}
        self.gaps: dict[tuple[int, str], list[GapReading]] = {
            (boot.id, kind): [] for boot in boots for kind in ("gap", "amount")
        }

    def add(self, cell: Cell) -> None:
        """Adds the row of one cell."""
        what, side, _, n, height, read, station = cell
        um, text, unit = read.um, read.text, read.unit
        # the unit column of a row is the reading's, so the height's text says its own
        high, high_text = height.um, height.text
        at, who = self.read_before.get((what, side, high, n, text), self.now)
        if what == "leg":
            row = LegReading(
                self.fit_id, side, MOMENT, station, high, high_text, um, text, unit, n, at, who
            )
            self.legs.append(row)
            return
        boot = self.by_side[side]
        if what == "boot":
            taped = BootReading(
                boot, MOMENT, high, high_text, um, text, unit, self.method, n, at, who
            )
            self.shafts[boot].append(taped)
        else:
            gap = GapReading(0, boot, what, high, high_text, um, text, unit, n, at, who)
            self.gaps[boot, what].append(gap)


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
        ExactReading(cell.what, cell.side, cell.station, cell.height, with_unit(cell.length))
        for cell in cells
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
