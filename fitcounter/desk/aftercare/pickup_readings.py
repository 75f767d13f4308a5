"""The boot and leg as they were read at pickup, which a comeback is compared with."""

from __future__ import annotations

from fractions import Fraction
from typing import NamedTuple

from fitcounter.fit.handbook.leg import UM_PER_MM
from fitcounter.store import readings, rounds
from fitcounter.store.bench_records import Round
from fitcounter.store.database import Store
from fitcounter.store.records import Item


class ReadingAtPickup(NamedTuple):
    """Where the boot was read, its raw reading and how it was taken, and the leg's girth.

    height_um, boot_mm, leg_mm: None where unknown; boot_method is "" then.
    """

    height_um: int | None
    boot_mm: Fraction | None
    boot_method: str
    leg_mm: Fraction | None


def at_pickup(store: Store, item: Item) -> ReadingAtPickup:
    """The last reading that counts: one taken at pickup, else the last rested one of a round.

    The leg is the mean of its readings at that height from when the job was taken in.
    """
    rested = _last_rested(store, item.id)
    pickup = readings.boots(store, item.id, "pickup")
    height_um = (
        item.mark_um
        or (rested.mark_um if rested else None)
        or (pickup[0].height_um if pickup else None)
    )
    leg_mm = _leg_mm(store, item, height_um)
    for reading in pickup:
        if reading.height_um == height_um:
            boot_mm = Fraction(reading.girth_um, UM_PER_MM)
            return ReadingAtPickup(height_um, boot_mm, reading.method, leg_mm)
    if rested is not None and rested.rested_um is not None:
        boot_mm = Fraction(rested.rested_um, UM_PER_MM)
        return ReadingAtPickup(height_um, boot_mm, rested.rested_method or rested.method, leg_mm)
    return ReadingAtPickup(height_um, None, "", leg_mm)


def _last_rested(store: Store, item_id: int) -> Round | None:
    """The item's last round with a rested reading that counts."""
    for bench_round in reversed(rounds.of_item(store, item_id)):
        if bench_round.rested_um is not None and bench_round.rested_counts:
            return bench_round
    return None


def _leg_mm(store: Store, item: Item, height_um: int | None) -> Fraction | None:
    """The mean girth of the item's own leg at that height; None where it was not read there."""
    if not item.fit_id:
        return None
    girths_um = [
        reading.girth_um
        for reading in readings.legs(store, item.fit_id)
        if reading.side == item.side and reading.height_um == height_um
    ]
    return Fraction(sum(girths_um), UM_PER_MM * len(girths_um)) if girths_um else None
