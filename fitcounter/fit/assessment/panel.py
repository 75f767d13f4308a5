"""What a panel would have to be, where stretching is not the answer."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from fitcounter.fit.assessment.girth_now import PlaceNow
from fitcounter.fit.assessment.job_boot import Boot
from fitcounter.fit.handbook.leather import ELASTIC_YIELD


@dataclass(frozen=True, slots=True)
class Panel:
    """What a panel would have to be: mm of girth, and the height it runs down to."""

    top_mm: float
    widest_mm: float
    down_to_mm: float
    elastic_give_mm: float


def panel_of(now: Sequence[PlaceNow], worst: PlaceNow, boot: Boot) -> Panel:
    down_to = worst.height_mm
    for place in reversed([place for place in now if place.height_mm < worst.height_mm]):
        if not place.short:
            break
        down_to = place.height_mm
    elastic = boot.elastic.width_mm if boot.elastic and boot.elastic.spans(worst.height_mm) else 0.0
    return Panel(
        now[-1].need_mm,
        max(place.need_mm for place in now),
        down_to,
        ELASTIC_YIELD * elastic,
    )
