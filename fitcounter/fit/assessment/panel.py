"""What a panel would have to be, where stretching is not the answer."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from fitcounter.fit.assessment.girth_now import PlaceNow


@dataclass(frozen=True, slots=True)
class Panel:
    """What a panel would have to be: mm of girth, and the height it runs down to.

    open_below: short down to the lowest evaluated height, so it may have to run further down.
    """

    top_mm: float
    widest_mm: float
    down_to_mm: float
    elastic_give_mm: float
    open_below: bool = False


def panel_of(now: Sequence[PlaceNow], worst: PlaceNow, elastic_give_mm: float) -> Panel:
    """The panel for these heights, lowest first. elastic_give_mm: at the tightest place."""
    down_to = worst.height_mm
    for place in reversed([place for place in now if place.height_mm < worst.height_mm]):
        if not place.short:
            break
        down_to = place.height_mm
    return Panel(
        now[-1].need_mm,
        max(place.need_mm for place in now),
        down_to,
        elastic_give_mm,
        down_to == now[0].height_mm,
    )
