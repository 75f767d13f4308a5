"""Each height of a boot as it is now, after its rounds, and the tightest of them.

Lengths are millimetres; strains are fractions of the leather part as first brought in.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import NamedTuple

from fitcounter.fit.assessment.need import Place
from fitcounter.fit.assessment.shaft import leather_now_mm
from fitcounter.fit.handbook.leg import TIE, TOLERANCE_MM
from fitcounter.fit.handbook.load import SAME_STRAIN


class PlaceNow(NamedTuple):
    """A height as it is now.

    share: how much of the growth at the tightest place reached here, 0 to 1. strain: need now over
    the leather part; strain_total: the same from the boot as first brought in.
    """

    first: Place
    girth_mm: float
    need_mm: float
    share: float = 1.0

    @property
    def height_mm(self) -> float:
        return self.first.height_mm

    @property
    def short(self) -> bool:
        return _is_short(self.need_mm)

    @property
    def strain(self) -> float:
        return self.need_mm / self.first.leather_mm

    @property
    def leather_mm(self) -> float:
        """The leather part now."""
        return leather_now_mm(self.first.leather_mm, self.first.girth_mm, self.girth_mm)

    @property
    def strain_total(self) -> float:
        return (self.girth_mm + self.need_mm - self.first.girth_mm) / self.first.leather_mm


@dataclass(frozen=True, slots=True)
class Room:
    """Where a boot is too wide: by how much at most, at which height, and whether it is so
    everywhere.
    """

    most_mm: float
    height_mm: float
    everywhere: bool


def room_of(places: Sequence[PlaceNow]) -> Room | None:
    """The room of a boot over its heights, lowest first; None where none is over the tolerance."""
    least = min(place.need_mm for place in places)
    if least > -TOLERANCE_MM + TIE:
        return None
    where = next(place for place in places if place.need_mm <= least + TIE)
    everywhere = all(place.need_mm <= -TOLERANCE_MM + TIE for place in places)
    return Room(-where.need_mm, where.height_mm, everywhere)


def places_now(places: Sequence[Place], grown_mm: float) -> tuple[PlaceNow, ...]:
    """The boot after it has grown at the place that was tightest; elsewhere by the share of need
    that place had.
    """
    needs = [place.need_mm for place in places]
    first = _tightest(needs, [place.need_mm / place.leather_mm for place in places])
    most = needs[first]
    shares = [min(1.0, need / most) if need > 0 and most > 0 else 0.0 for need in needs]
    shares[first] = 1.0
    return tuple(
        PlaceNow(place, place.girth_mm + grown_mm * part, place.need_mm - grown_mm * part, part)
        for place, part in zip(places, shares, strict=True)
    )


def tightest(places: Sequence[PlaceNow]) -> PlaceNow:
    """The short place with the largest share of its leather to gain, the lowest on a tie; else the
    place of most need.
    """
    needs, strains = [place.need_mm for place in places], [place.strain for place in places]
    return places[_tightest(needs, strains)]


def _tightest(needs_mm: Sequence[float], strains: Sequence[float]) -> int:
    """Which place is the tightest, by needs and strains of all."""
    short = [place for place, need in enumerate(needs_mm) if _is_short(need)]
    if not short:
        least = max(needs_mm) - TIE
        return next(place for place, need in enumerate(needs_mm) if need >= least)
    enough = max(strains[place] for place in short) - SAME_STRAIN
    return next(place for place in short if strains[place] >= enough)


def _is_short(need_mm: float) -> bool:
    return need_mm > TOLERANCE_MM + TIE
